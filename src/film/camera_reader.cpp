#include "film/camera_reader.h"

#include <algorithm>
#include <cstdlib>
#include <list>
#include <utility>

#include "film/part_pictures.h"

namespace jigtime::film {
namespace {

// A session time mapped to clip time and back may come out a nanosecond early, on the picture before.
constexpr Length rounding{1};
// Further back than any rounding, much less than a picture lasts.
constexpr Length just_before = std::chrono::microseconds{50};
// Files kept open: the one on show and the one before it.
constexpr std::size_t most_open = 2;
// Stretches without pictures to step over before giving up; more than a session has.
constexpr int most_stretches = 10'000;

/// Where in the footage something returned stands.
struct Standing {
  std::optional<Place> place;  ///< nothing while off
  const Part* part = nullptr;  ///< set when a picture was shown
  SessionTime at{};
};

bool comes_from_reader(const Seen& seen) { return seen.shows == Shows::picture; }

}  // namespace

struct CameraReader::Impl {
  Camera camera;
  Settings settings;
  std::stop_token stop;
  std::function<bool()> give_up{};
  std::list<PartPictures> open{};  ///< the one used last in front
  std::vector<std::filesystem::path> bad_copies{};
  std::optional<Standing> standing{};

  bool given_up() const { return stop.stop_requested() || (give_up && give_up()); }
  Result<PartPictures*> pictures_of(const Part& part);
  void note_copy(PartPictures& pictures);
  Result<Seen> picture_at(const Place& place, SessionTime t);
  Seen trouble(const Place& place, const Error& error, SessionTime t) const;
  Result<std::optional<Seen>> next_in_place(CameraReader& self);
  Result<std::optional<Seen>> jump(std::optional<SessionTime> t, CameraReader& self);
};

Result<PartPictures*> CameraReader::Impl::pictures_of(const Part& part) {
  const auto found =
      std::find_if(open.begin(), open.end(), [&](const PartPictures& one) { return one.part().source == part.source; });
  if (found != open.end()) {
    open.splice(open.begin(), open, found);
    return &open.front();
  }
  Part wanted = part;
  const bool known_bad = std::find(bad_copies.begin(), bad_copies.end(), part.copy) != bad_copies.end();
  if (known_bad) wanted.copy.clear();
  auto opened = PartPictures::open(wanted, settings, stop, [this] { return give_up && give_up(); });
  if (!opened) return opened.error();
  open.push_front(std::move(*opened));
  if (open.size() > most_open) open.pop_back();
  note_copy(open.front());
  return &open.front();
}

void CameraReader::Impl::note_copy(PartPictures& pictures) {
  const std::filesystem::path& copy = pictures.part().copy;
  const bool noted = std::find(bad_copies.begin(), bad_copies.end(), copy) != bad_copies.end();
  if (pictures.copy_is_bad() && !noted) bad_copies.push_back(copy);
}

Seen CameraReader::Impl::trouble(const Place& place, const Error& error, SessionTime) const {
  return {Shows::unreadable, place.piece->session_start, {}, {}, error.message()};
}

Result<Seen> CameraReader::Impl::picture_at(const Place& place, SessionTime t) {
  const InPart in = part_at(*place.clip, place.piece->to_clip(t) + rounding);
  const auto pictures = pictures_of(*in.part);
  if (!pictures && (pictures.error().code() == Code::cancelled || stop.stop_requested())) return pictures.error();
  if (!pictures) return trouble(place, pictures.error(), t);
  auto found = (*pictures)->at(in.at);
  note_copy(**pictures);
  if (!found && (found.error().code() == Code::cancelled || stop.stop_requested())) return found.error();
  if (!found) return trouble(place, found.error(), t);
  standing->part = in.part;
  const SessionTime begins = place.piece->to_session(in.part->clip_from + found->at.time_since_epoch());
  // The first picture of a piece may have begun before it.
  return Seen{Shows::picture, std::max(begins, place.piece->session_start), std::move(found->picture), {}, {}};
}

Result<Seen> CameraReader::at(SessionTime t) {
  Impl& self = *impl_;
  if (self.given_up()) return Error{Code::cancelled, "The picture is not wanted any more."};
  const std::optional<Place> place = place_at(self.camera, t);
  self.standing = Standing{place, nullptr, t};
  if (!place) {
    const Off off = off_around(self.camera, t);
    return Seen{Shows::off, off.since.value_or(t), {}, off, {}};
  }
  const Clip& clip = *place->clip;
  if (!clip.gone.empty()) return Seen{Shows::gone, place->piece->session_start, {}, {}, clip.gone};
  if (!clip.has_pictures) return Seen{Shows::sound_only, place->piece->session_start, {}, {}, {}};
  if (clip.parts.empty()) return Seen{Shows::unreadable, place->piece->session_start, {}, {}, "It has no files."};
  auto seen = self.picture_at(*place, t);
  if (!seen) self.standing.reset();
  return seen;
}

/// The next picture of the same piece, if there is one.
Result<std::optional<Seen>> CameraReader::Impl::next_in_place(CameraReader& self) {
  const Place& place = *standing->place;
  const auto pictures = pictures_of(*standing->part);
  if (!pictures) return pictures.error();
  auto found = (*pictures)->next();
  note_copy(**pictures);
  if (!found) return found.error();
  if (!*found) return std::optional<Seen>{};
  const ClipTime at = standing->part->clip_from + (*found)->at.time_since_epoch();
  const SessionTime begins = place.piece->to_session(at);
  if (begins >= place.piece->session_end()) return std::optional<Seen>{};
  const std::optional<Place> now = place_at(camera, begins);
  if (!now || now->clip != place.clip) return jump(begins, self);
  standing->at = begins;
  return std::optional{Seen{Shows::picture, begins, std::move((*found)->picture), {}, {}}};
}

Result<std::optional<Seen>> CameraReader::Impl::jump(std::optional<SessionTime> t, CameraReader& self) {
  if (!t) return std::optional<Seen>{};
  auto seen = self.at(*t);
  if (!seen) return seen.error();
  return std::optional{std::move(*seen)};
}

Result<std::optional<Seen>> CameraReader::next() {
  Impl& self = *impl_;
  if (!self.standing) return self.jump(off_around(self.camera, SessionTime::min()).until, *this);
  const Standing was = *self.standing;
  if (!was.place) return self.jump(off_around(self.camera, was.at).until, *this);
  const SessionTime end = was.place->piece->session_end();
  if (was.part == nullptr) return self.jump(end, *this);
  auto found = self.next_in_place(*this);
  if (!found && found.error().code() == Code::cancelled) return found.error();
  if (found && *found) return found;
  // The file is at its end, or broke off: on to the next file of the clip, or to what follows the piece.
  for (const Part& part : was.place->clip->parts) {
    const SessionTime begins = was.place->piece->to_session(part.clip_from);
    if (part.clip_from > was.part->clip_from && begins < end) return self.jump(std::max(begins, was.at), *this);
  }
  return self.jump(end, *this);
}

Result<std::optional<Seen>> CameraReader::picture_from(SessionTime t, int pictures) {
  auto seen = at(t);
  if (!seen) return seen.error();
  std::optional<Seen> last;
  const bool back = pictures < 0;
  int left = std::abs(pictures);
  if (comes_from_reader(*seen) && pictures == 0) return std::optional{std::move(*seen)};
  for (int stretches = 0; left > 0 && stretches < most_stretches;) {
    std::optional<Seen> found;
    if (back) {
      const bool far_off = seen->shows == Shows::off;
      if (far_off && !seen->off.since) break;
      auto before = at((far_off ? *seen->off.since : seen->begins) - just_before);
      if (!before) return before.error();
      found = std::move(*before);
    } else {
      auto after = next();
      if (!after) return after.error();
      found = std::move(*after);
    }
    if (!found) break;
    *seen = std::move(*found);
    if (!comes_from_reader(*seen)) {
      ++stretches;
      continue;
    }
    --left;
    last = *seen;
  }
  return last;
}

CameraReader::CameraReader(Camera camera, Settings settings, std::stop_token stop)
    : impl_{std::make_unique<Impl>(Impl{std::move(camera), settings, std::move(stop)})} {}
CameraReader::CameraReader(CameraReader&&) noexcept = default;
CameraReader& CameraReader::operator=(CameraReader&&) noexcept = default;
CameraReader::~CameraReader() = default;

void CameraReader::set_most_width(int most_width) {
  impl_->settings.most_width = most_width;
  for (PartPictures& pictures : impl_->open) pictures.set_most_width(most_width);
}
void CameraReader::set_give_up(std::function<bool()> give_up) { impl_->give_up = std::move(give_up); }
const Camera& CameraReader::camera() const { return impl_->camera; }
const std::vector<std::filesystem::path>& CameraReader::bad_copies() const { return impl_->bad_copies; }

}  // namespace jigtime::film
