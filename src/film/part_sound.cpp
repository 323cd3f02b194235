#include "film/part_sound.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "film/part_pictures.h"

namespace jigtime::film {
namespace {

// On either side of what is asked for: what interpolation leans on, and what seeking may land off by.
constexpr Length margin = std::chrono::milliseconds{1};
// Reading on is cheaper than a seek up to here.
constexpr Length near_ahead = std::chrono::seconds{2};
// A hole in the file's sound that is filled with silence; beyond it the samples before are forgotten.
constexpr Length most_hole = std::chrono::seconds{10};

Result<media::SoundReader> open_reader(const Part& part, int rate_hz, bool use_copies, const std::stop_token& stop) {
  if (use_copies && !part.copy.empty()) {
    auto opened = media::SoundReader::open(part.copy, rate_hz, stop);
    if (opened || stop.stop_requested()) return opened;
  }
  if (const Done same = check_identity(part); !same) return same.error();
  return media::SoundReader::open(part.source, rate_hz, stop);
}

}  // namespace

Result<PartSound> PartSound::open(const Part& part, int sample_rate_hz, bool use_copies, std::stop_token stop) {
  auto reader = open_reader(part, sample_rate_hz, use_copies, stop);
  if (!reader) return reader.error();
  return PartSound{part, sample_rate_hz, std::move(*reader)};
}

double PartSound::position(ClipTime t) const { return to_seconds(t - *begin_) * rate_hz_; }

Done PartSound::take_block() {
  const auto block = reader_.next();
  if (!block) return block.error();
  at_end_ = !*block;
  if (at_end_) return {};
  const ClipTime start = (*block)->start;
  const auto samples = (*block)->samples;
  const double at = begin_ ? std::round(position(start)) : 0;
  const double held = static_cast<double>(held_.size());
  if (!begin_ || at < 0 || at - held > to_seconds(most_hole) * rate_hz_) {
    begin_ = start;
    held_.assign(samples.begin(), samples.end());
    return {};
  }
  // Stamps that step back or leave a hole: the later block holds, and what nobody recorded is silent.
  held_.resize(static_cast<std::size_t>(at), 0.0F);
  held_.insert(held_.end(), samples.begin(), samples.end());
  return {};
}

Done PartSound::have(ClipTime from, ClipTime to) {
  const auto end = [&] { return *begin_ + from_seconds(static_cast<double>(held_.size()) / rate_hz_); };
  const bool before = begin_ && from < *begin_ && (!silent_from_ || from < *silent_from_);
  if (!begin_ || before || from > end() + near_ahead) {
    begin_.reset();
    silent_from_ = from;
    held_.clear();
    at_end_ = false;
    if (const Done went = reader_.seek(from); !went) return went;
  }
  while (!at_end_ && (!begin_ || end() < to)) {
    if (const Done took = take_block(); !took) return took;
  }
  if (!begin_) return {};
  const double passed = std::floor(position(from));
  if (passed > rate_hz_) {
    const auto gone = std::min(static_cast<std::size_t>(passed), held_.size());
    held_.erase(held_.begin(), held_.begin() + static_cast<std::ptrdiff_t>(gone));
    silent_from_.reset();
    *begin_ += Length{scaled(static_cast<std::int64_t>(gone), 1'000'000'000, rate_hz_)};
  }
  return {};
}

/// Catmull-Rom through the four samples around: exact on a sample, smooth between.
float PartSound::at(double position) const {
  const double whole = std::floor(position);
  const auto count = static_cast<std::int64_t>(held_.size());
  const auto i = static_cast<std::int64_t>(whole);
  if (i < 0 || i >= count) return 0;
  const auto sample = [&](std::int64_t n) {
    return static_cast<double>(held_[static_cast<std::size_t>(std::clamp<std::int64_t>(n, 0, count - 1))]);
  };
  const double x = position - whole;
  const double before = sample(i - 1), first = sample(i), second = sample(i + 1), after = sample(i + 2);
  const double slope = (second - before) / 2, next_slope = (after - first) / 2;
  const double bend = 3 * (second - first) - 2 * slope - next_slope;
  const double twist = slope + next_slope - 2 * (second - first);
  return static_cast<float>(first + x * (slope + x * (bend + x * twist)));
}

Done PartSound::read(ClipTime from, double step_s, std::span<float> out) {
  const ClipTime to = from + from_seconds(step_s * static_cast<double>(out.size()));
  if (const Done ready = have(from - margin, to + margin); !ready) return ready;
  if (!begin_) {
    std::fill(out.begin(), out.end(), 0.0F);
    return {};
  }
  const double first = position(from);
  for (std::size_t i = 0; i < out.size(); ++i) out[i] = at(first + static_cast<double>(i) * step_s * rate_hz_);
  return {};
}

}  // namespace jigtime::film
