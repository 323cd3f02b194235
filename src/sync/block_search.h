// Where in a clip stretches of others were heard: correlation of features at every lag.
// Must never know: samples, more than two clips.
// Begin reading at: BlockSearch::search.
#pragma once

#include <span>
#include <vector>

#include "signal/fft.h"
#include "sync/features.h"

namespace jigtime::sync {

/// One place at which a block of clip a fits clip b.
struct Vote {
  double at = 0;   ///< clip seconds of a, at the middle of what overlaps
  double lag = 0;  ///< seconds: what a hears at t, b hears at t + lag on its own clip time
  double z = 0;    ///< height over the spread of all lags (median absolute deviation)
};

/// A stretch of frames of clip a: [first, first + count).
struct Block {
  int first = 0;
  int count = 0;
};
/// The clip in equal blocks of at most two minutes: a rate of 200 ppm smears them by one frame only.
std::vector<Block> blocks_of(const Frames& frames);

/// A block made ready to be looked for in other clips: about 1 MB.
struct PreparedBlock {
  const Frames* clip = nullptr;
  Block block;
  std::vector<signal::Spectrum> bands;
  signal::Spectrum energy;
};

/// Correlation of blocks of some clips with another clip, b. The score of a lag is the sum of products over its
/// expected spread if nothing belonged together, sqrt(sum of energy products over what overlaps): so neither a short
/// overlap nor a loud one wins by chance. Spectral lines of the block (steady hammering, a compressor) are cut down to
/// three times their neighbourhood. One object for each thread.
class BlockSearch {
 public:
  BlockSearch();
  PreparedBlock prepare(const Frames& a, Block block);
  /// The highest peaks for each block, highest first, at least half a second apart, of all lags at which anything
  /// overlaps; blocks in the given order. Working memory about 0.8 MB for each block and hour of b, kept.
  std::vector<std::vector<Vote>> search(std::span<const PreparedBlock* const> blocks, const Frames& b, int votes);

 private:
  struct Spectra {
    std::vector<signal::Spectrum> bands;
    signal::Spectrum energy;
  };
  struct Scores {
    int first_lag = 0;            // in frames
    std::vector<float> products;  // by lag
    std::vector<float> energies;  // by pooled lag
  };
  static void make_room(int low, int high, Scores& scores);
  void prepare_segment(const Frames& b, int first, Spectra& to);
  void correlate(const PreparedBlock& block, const Spectra& segment, std::size_t place, Scores& scores);
  std::vector<Vote> pick(const PreparedBlock& block, const Frames& b, const Scores& scores, int votes);

  signal::RealFft fft_;
  signal::RealFft pooled_fft_;
  signal::Samples samples_, pooled_;
  signal::Spectrum product_;
  Spectra segment_;
  // Kept from search to search, as is their memory.
  std::vector<Scores> scores_;
  std::vector<float> z_;
};

}  // namespace jigtime::sync
