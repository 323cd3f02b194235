#include "sync/block_search.h"

#include <algorithm>
#include <cmath>

#include "signal/correlate.h"
#include "signal/statistics.h"
#include "sync/at.h"

namespace jigtime::sync {

namespace {

constexpr int transform = 16384;
constexpr int most_block = 6000;     // frames, 2 minutes
constexpr int pool = 8;              // frames of energy in one
constexpr int step = 10384;          // lags that one segment serves: transform - most_block, a multiple of the pool
constexpr int line_neighbours = 24;  // bins to either side that a spectral line is measured against
constexpr float line_limit = 3;
constexpr int apart_frames = 25;
constexpr float worth_a_vote = 3.3f;  // gather() looks at none of 3.8 and less, and between two frames a peak is higher
/// Energy products of three seconds in which something happens: an overlap with less than that scores lower.
constexpr float soft_energy = 150.0f * 16 * 16;

void copy_stretch(std::span<const std::int16_t> from, int first, int count, signal::Samples& to) {
  std::fill(to.begin(), to.end(), 0.0f);
  const int begin = std::max(0, first), end = std::min(static_cast<int>(from.size()), first + count);
  for (int i = begin; i < end; ++i) to[at(i - first)] = static_cast<float>(from[at(i)]) / value_steps;
}

void copy_pooled(std::span<const float> from, int first, int count, signal::Samples& to) {
  std::fill(to.begin(), to.end(), 0.0f);
  const int begin = std::max(0, first), end = std::min(static_cast<int>(from.size()), first + count);
  for (int i = begin; i < end; ++i) to[at((i - first) / pool)] += from[at(i)];
}

/// Cuts every bin to a multiple of the mean magnitude around it.
void limit_lines(signal::Spectrum& spectrum, std::vector<float>& magnitudes) {
  magnitudes.resize(spectrum.size());
  for (std::size_t k = 0; k < spectrum.size(); ++k) magnitudes[k] = std::sqrt(std::norm(spectrum[k]));
  const int bins = static_cast<int>(spectrum.size());
  double sum = 0;
  int from = 0, to = 0;
  for (int k = 0; k < bins; ++k) {
    for (; to < std::min(bins, k + line_neighbours + 1); ++to) sum += magnitudes[at(to)];
    for (; from < k - line_neighbours; ++from) sum -= magnitudes[at(from)];
    const float limit = line_limit * static_cast<float>(sum / (to - from));
    if (magnitudes[at(k)] > limit) spectrum[at(k)] *= limit / magnitudes[at(k)];
  }
}

}  // namespace

std::vector<Block> blocks_of(const Frames& frames) {
  std::vector<Block> blocks;
  const int count = (frames.count() + most_block - 1) / most_block;
  for (int i = 0; i < count; ++i) {
    const auto border = [&](int n) { return static_cast<int>(static_cast<std::int64_t>(frames.count()) * n / count); };
    blocks.push_back({border(i), border(i + 1) - border(i)});
  }
  return blocks;
}

BlockSearch::BlockSearch()
    : fft_{transform}, pooled_fft_{transform / pool}, samples_(at(transform)), pooled_(at(transform / pool)) {}

PreparedBlock BlockSearch::prepare(const Frames& a, Block block) {
  PreparedBlock prepared{&a, block, std::vector<signal::Spectrum>(feature_bands), {}};
  std::vector<float> magnitudes;
  for (int band = 0; band < feature_bands; ++band) {
    copy_stretch(a.band(band), block.first, block.count, samples_);
    fft_.forward(samples_, prepared.bands[at(band)]);
    limit_lines(prepared.bands[at(band)], magnitudes);
  }
  copy_pooled(a.energy(), block.first, block.count, pooled_);
  pooled_fft_.forward(pooled_, prepared.energy);
  return prepared;
}

void BlockSearch::prepare_segment(const Frames& b, int first, Spectra& to) {
  to.bands.resize(feature_bands);
  for (int band = 0; band < feature_bands; ++band) {
    copy_stretch(b.band(band), first, transform, samples_);
    fft_.forward(samples_, to.bands[at(band)]);
  }
  copy_pooled(b.energy(), first, transform, pooled_);
  pooled_fft_.forward(pooled_, to.energy);
}

void BlockSearch::correlate(const PreparedBlock& block, const Spectra& segment, std::size_t place, Scores& scores) {
  product_.assign(at(fft_.bins()), 0.0f);
  for (std::size_t band = 0; band < feature_bands; ++band) {
    const float* const x = reinterpret_cast<const float*>(block.bands[band].data());
    const float* const y = reinterpret_cast<const float*>(segment.bands[band].data());
    float* const sum = reinterpret_cast<float*>(product_.data());
    // Written out by parts: std::complex multiplication checks for infinities and does not vectorise.
    for (std::size_t k = 0; k < 2 * product_.size(); k += 2) {
      sum[k] += x[k] * y[k] + x[k + 1] * y[k + 1];
      sum[k + 1] += x[k] * y[k + 1] - x[k + 1] * y[k];
    }
  }
  fft_.inverse(product_, samples_);
  const std::size_t lags = std::min(at(step), scores.products.size() - place);
  std::copy_n(samples_.begin(), lags, scores.products.begin() + static_cast<std::ptrdiff_t>(place));
  product_.resize(at(pooled_fft_.bins()));
  for (std::size_t k = 0; k < product_.size(); ++k) product_[k] = std::conj(block.energy[k]) * segment.energy[k];
  pooled_fft_.inverse(product_, pooled_);
  const std::size_t pooled_place = place / pool;
  const std::size_t pooled_lags = std::min(at(step / pool + 1), scores.energies.size() - pooled_place);
  std::copy_n(pooled_.begin(), pooled_lags, scores.energies.begin() + static_cast<std::ptrdiff_t>(pooled_place));
}

std::vector<std::vector<Vote>> BlockSearch::search(std::span<const PreparedBlock* const> blocks, const Frames& b,
                                                   int votes) {
  std::vector<std::vector<Vote>> found;
  if (b.count() == 0) return std::vector<std::vector<Vote>>(blocks.size());
  if (scores_.size() < blocks.size()) scores_.resize(blocks.size());
  for (std::size_t i = 0; i < blocks.size(); ++i) make_room(-most_block, b.count(), scores_[i]);
  for (int lag = -most_block; lag < b.count(); lag += step) {
    prepare_segment(b, lag, segment_);
    for (std::size_t i = 0; i < blocks.size(); ++i) correlate(*blocks[i], segment_, at(lag + most_block), scores_[i]);
  }
  for (std::size_t i = 0; i < blocks.size(); ++i) found.push_back(pick(*blocks[i], b, scores_[i], votes));
  return found;
}

void BlockSearch::make_room(int low, int high, Scores& scores) {
  const int lags = std::max(0, high - low);
  scores.first_lag = low;
  scores.products.resize(at(lags));
  scores.energies.resize(at(lags / pool + 2));
  // The segments write all but these.
  std::fill(scores.energies.end() - 2, scores.energies.end(), 0.0f);
}

std::vector<Vote> BlockSearch::pick(const PreparedBlock& prepared, const Frames& b, const Scores& scores, int votes) {
  const Frames& a = *prepared.clip;
  const Block& block = prepared.block;
  z_.resize(scores.products.size());
  std::vector<double> sample;
  for (std::size_t i = 0; i < z_.size(); ++i) {
    const float share = static_cast<float>(i % pool) / pool;
    const float energy =
        std::max(0.0f, scores.energies[i / pool] * (1 - share) + scores.energies[i / pool + 1] * share);
    z_[i] = scores.products[i] / std::sqrt(energy + soft_energy);
    if (energy > soft_energy && i % 7 == 0) sample.push_back(z_[i]);
  }
  if (sample.size() < 50) return {};
  const double sigma = signal::robust_spread(sample).sigma;
  if (!(sigma > 0)) return {};
  // Only what stands out upwards: features that fall together are no match.
  for (float& one : z_) one = std::max(0.0f, one / static_cast<float>(sigma));
  std::vector<Vote> found;
  for (const signal::Peak& peak : signal::highest_peaks(z_, votes, apart_frames, worth_a_vote)) {
    const double lag_frames = scores.first_lag + peak.position;
    const double begin = std::max(0.0, -lag_frames), end = std::min<double>(block.count, b.count() - lag_frames);
    Vote vote;
    vote.at = a.time_of(block.first + (begin + end) / 2);
    vote.lag = b.time_of(lag_frames) - a.time_of(block.first);
    vote.z = peak.height;
    found.push_back(vote);
  }
  return found;
}

}  // namespace jigtime::sync
