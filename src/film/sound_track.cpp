#include "film/sound_track.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "film/part_sound.h"

namespace jigtime::film {
namespace {

// Samples worked out at once: the clock's rate is taken as constant over them.
constexpr std::int64_t most_at_once = 4096;

}  // namespace

struct SoundTrack::Impl {
  Camera camera;
  int rate_hz;
  bool use_copies;
  std::stop_token stop;
  SessionTime origin{};
  std::int64_t count = 0;  ///< samples since then
  std::optional<PartSound> open{};
  const Part* unreadable = nullptr;  ///< not tried again until go_to
  std::string trouble{};

  SessionTime time_of(std::int64_t sample) const { return origin + Length{scaled(sample, 1'000'000'000, rate_hz)}; }
  /// How many samples lie before `t`, at most as many as given.
  std::size_t until(std::optional<SessionTime> t, std::size_t most) const;
  Done read_piece(const Place& place, std::span<float> out);
  bool opens(const Part& part);
};

std::size_t SoundTrack::Impl::until(std::optional<SessionTime> t, std::size_t most) const {
  if (!t) return most;
  const Length left = *t - time_of(count);
  // Rounded up: the sample that begins at or after `t` is the first of what follows.
  const std::int64_t samples = scaled(left.count(), rate_hz, 1'000'000'000) + 1;
  return std::clamp<std::size_t>(static_cast<std::size_t>(std::max<std::int64_t>(samples, 1)), 1, most);
}

bool SoundTrack::Impl::opens(const Part& part) {
  if (open && open->part().source == part.source) return true;
  if (unreadable == &part) return false;
  auto opened = PartSound::open(part, rate_hz, use_copies, stop);
  if (opened) {
    open.emplace(std::move(*opened));
    return true;
  }
  unreadable = &part;
  trouble = opened.error().message();
  return false;
}

Done SoundTrack::Impl::read_piece(const Place& place, std::span<float> out) {
  std::fill(out.begin(), out.end(), 0.0F);
  const Clip& clip = *place.clip;
  if (!clip.gone.empty() || !clip.has_sound || clip.parts.empty()) return {};
  const ClipTime from = place.piece->to_clip(time_of(count));
  const InPart in = part_at(clip, from);
  if (!opens(*in.part)) return {};
  const double step = static_cast<double>(one_in_ppb) / static_cast<double>(one_in_ppb + place.piece->rate_ppb);
  Done read = open->read(in.at, step / rate_hz, out);
  if (!read && use_copies && !in.part->copy.empty() && !stop.stop_requested()) {
    // A copy that cannot be read to its end: its source stands in, and for the rest too.
    use_copies = false;
    open.reset();
    if (!opens(*in.part)) return {};
    read = open->read(in.at, step / rate_hz, out);
  }
  if (!read && !stop.stop_requested()) {
    trouble = read.error().message();
    unreadable = in.part;
    open.reset();
    return {};
  }
  return read;
}

SoundTrack::SoundTrack(Camera camera, int sample_rate_hz, bool use_copies, std::stop_token stop)
    : impl_{std::make_unique<Impl>(Impl{std::move(camera), sample_rate_hz, use_copies, std::move(stop)})} {}
SoundTrack::SoundTrack(SoundTrack&&) noexcept = default;
SoundTrack& SoundTrack::operator=(SoundTrack&&) noexcept = default;
SoundTrack::~SoundTrack() = default;

void SoundTrack::go_to(SessionTime t) {
  impl_->origin = t;
  impl_->count = 0;
  impl_->unreadable = nullptr;
}

SessionTime SoundTrack::next_at() const { return impl_->time_of(impl_->count); }
const std::string& SoundTrack::trouble() const { return impl_->trouble; }

Done SoundTrack::read(std::span<float> out) {
  Impl& self = *impl_;
  while (!out.empty()) {
    if (self.stop.stop_requested()) return Error{Code::cancelled, "The sound is not wanted any more."};
    const SessionTime now = next_at();
    std::size_t count = std::min<std::size_t>(out.size(), most_at_once);
    if (const std::optional<Place> place = place_at(self.camera, now)) {
      count = self.until(place->piece->session_end(), count);
      const ClipTime at = place->piece->to_clip(now);
      for (const Part& part : place->clip->parts) {
        if (part.clip_from > at) count = self.until(place->piece->to_session(part.clip_from), count);
      }
      if (const Done read = self.read_piece(*place, out.first(count)); !read) return read;
    } else {
      count = self.until(off_around(self.camera, now).until, count);
      std::fill_n(out.begin(), count, 0.0F);
    }
    self.count += static_cast<std::int64_t>(count);
    out = out.subspan(count);
  }
  return {};
}

bool hears(const Camera& camera, SessionTime t) {
  const std::optional<Place> place = place_at(camera, t);
  return place && place->clip->has_sound && place->clip->gone.empty();
}

}  // namespace jigtime::film
