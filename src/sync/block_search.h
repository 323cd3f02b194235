// Where in a long clip a stretch of another was heard: correlation of features at every lag.
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

struct LagRange {
  double low = 0;  ///< seconds
  double high = 0;
};

/// Correlation of blocks of a with b. The score of a lag is the sum of products over its expected spread if nothing
/// belonged together, sqrt(sum of energy products over what overlaps): so neither a short overlap nor a loud one wins
/// by chance. Spectral lines of the block (steady hammering, a compressor) are cut down to three times their
/// neighbourhood. Working memory about 20 MB for two hours of b; one object for each thread.
class BlockSearch {
 public:
  BlockSearch();
  /// The highest peaks for each block, highest first, at least half a second apart; blocks in the given order.
  /// Without a range every lag is tried at which anything overlaps.
  std::vector<std::vector<Vote>> search(const Frames& a, std::span<const Block> blocks, const Frames& b,
                                        const LagRange* range, int votes);

 private:
  struct Prepared {
    std::vector<signal::Spectrum> bands;
    signal::Spectrum energy;
  };
  struct Scores {
    int first_lag = 0;            // in frames
    std::vector<float> products;  // by lag
    std::vector<float> energies;  // by pooled lag
  };
  static Scores room_for(int low, int high);
  std::vector<Scores> search_everywhere(const Frames& a, std::span<const Block> group, const Frames& b);
  Scores search_near(const Frames& a, Block block, const Frames& b, const LagRange& range);
  Prepared prepare_block(const Frames& a, Block block);
  void prepare_segment(const Frames& b, int first, Prepared& to);
  void correlate(const Prepared& block, const Prepared& segment, std::size_t place, Scores& scores);
  std::vector<Vote> pick(const Frames& a, Block block, const Frames& b, const Scores& scores, int votes);

  signal::RealFft fft_;
  signal::RealFft pooled_fft_;
  signal::Samples samples_, pooled_;
  signal::Spectrum product_;
};

}  // namespace jigtime::sync
