#include "sync/ears.h"

#include <algorithm>

namespace jigtime::sync {

Ears::Ears(const std::vector<ClipInput>& clips) : clips_{clips} {
  for (int i = 0; i < static_cast<int>(clips.size()); ++i) {
    Ear& ear = ears_.emplace_back(heard(i) ? input(i).sound : nullptr);
    if (!heard(i)) continue;
    const auto& bytes = input(i).features->bytes;
    ear.silent = std::all_of(bytes.begin(), bytes.end(), [](std::uint8_t byte) { return byte == 0; });
  }
}

double Ears::seconds(int clip) const {
  return heard(clip) ? static_cast<double>(input(clip).features->frames) / feature_rate_hz : 0;
}

const Hearable& Ears::hearable(int clip) const {
  Ear& ear = ears_[static_cast<std::size_t>(clip)];
  std::call_once(ear.opened, [&] {
    ear.frames = Frames{*input(clip).features};
    ear.hearable = {&ear.frames, &ear.hearing, ear.hearing.origin(), ear.hearing.end()};
    for (const ClipTime join : input(clip).joins) ear.hearable.joins.push_back(to_seconds(join));
  });
  return ear.hearable;
}

std::optional<Error> Ears::failure() const {
  std::optional<Error> first;
  for (const Ear& ear : ears_) {
    if (ear.hearing.there()) return std::nullopt;
    if (const auto failure = ear.hearing.failure(); failure && !first) first = failure;
  }
  return first;
}

}  // namespace jigtime::sync
