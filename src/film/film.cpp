#include "film/film.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <set>
#include <utility>

#include "base/text.h"
#include "film/camera_reader.h"
#include "film/page.h"
#include "film/sound_track.h"
#include "film/tempo.h"
#include "media/writer.h"

namespace jigtime::film {
namespace {

constexpr int sound_rate_hz = 48'000;
// How long a mark's words stand, in the film's own time.
constexpr Length mark_stands = std::chrono::seconds{4};
// A key picture every two seconds keeps seeking in the film quick.
constexpr int seconds_to_a_key = 2;

std::string speed_text(int speed_milli) {
  std::string text = to_decimal_text(speed_milli / 1000.0, 3);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text + "x";
}

class Maker {
 public:
  Maker(const FilmPlan& plan, std::stop_token stop)
      : plan_{plan},
        stop_{stop},
        pace_{plan.stretches, plan.rate},
        layout_{lay_out(static_cast<int>(plan.cameras.size()), plan.width)},
        page_{layout_, names_of(plan.cameras)} {
    for (const Camera& camera : plan.cameras) {
      readers_.emplace_back(camera, CameraReader::Settings{layout_.panels[0].width, false, plan.threads}, stop);
    }
    if (!plan.sound_camera) return;
    track_.emplace(plan.cameras[*plan.sound_camera], sound_rate_hz, false, stop);
    track_->go_to(pace_.at(0));
    tempo_.emplace(sound_rate_hz, plan.stretches.front().speed_milli / 1000.0);
  }

  media::WriterSettings settings() const;
  Done write_all(media::Writer& writer, const std::function<void(double)>& reached);
  FilmReport report() const { return {pace_.count(), layout_.width, layout_.height, {notes_.begin(), notes_.end()}}; }

 private:
  static std::vector<std::string> names_of(const std::vector<Camera>& cameras) {
    std::vector<std::string> names;
    for (const Camera& camera : cameras) names.push_back(camera.name);
    return names;
  }
  Result<std::vector<Seen>> look(SessionTime t);
  Words words_at(std::int64_t picture) const;
  Done write_sound(media::Writer& writer, std::int64_t picture);
  std::vector<media::WriterSettings::Chapter> chapters() const;

  const FilmPlan& plan_;
  std::stop_token stop_;
  Pace pace_;
  Layout layout_;
  Page page_;
  std::vector<CameraReader> readers_;
  std::optional<SoundTrack> track_;
  std::optional<Tempo> tempo_;
  std::int64_t samples_ = 0;
  std::set<std::string> notes_;
};

media::WriterSettings Maker::settings() const {
  media::WriterSettings settings;
  settings.container = "mp4";
  settings.pictures.emplace();
  settings.pictures->codec = media::can_encode("libx264") ? "libx264" : "mpeg4";
  settings.pictures->width = layout_.width;
  settings.pictures->height = layout_.height;
  settings.pictures->rate_num = plan_.rate.num;
  settings.pictures->rate_den = plan_.rate.den;
  settings.pictures->key_every = std::max(plan_.rate.num * seconds_to_a_key / plan_.rate.den, 1);
  if (track_) {
    settings.sound.emplace();
    settings.sound->sample_rate_hz = sound_rate_hz;
  }
  settings.threads = plan_.threads;
  settings.title = plan_.title;
  settings.comment = film_comment;
  settings.chapters = chapters();
  return settings;
}

std::vector<media::WriterSettings::Chapter> Maker::chapters() const {
  std::vector<media::WriterSettings::Chapter> made;
  const Length end = pace_.film_time(pace_.count());
  for (const Chapter& chapter : plan_.chapters) {
    const Length begin = pace_.film_time(pace_.picture_at(chapter.begin));
    if (begin >= end) break;
    // Two that begin with the same picture are one.
    if (!made.empty() && made.back().begin == begin) made.pop_back();
    if (!made.empty()) made.back().end = begin;
    made.push_back({begin, end, chapter.title});
  }
  return made;
}

Result<std::vector<Seen>> Maker::look(SessionTime t) {
  std::vector<Seen> all;
  for (CameraReader& reader : readers_) {
    auto seen = reader.at(t);
    if (!seen) return seen.error();
    if (seen->shows == Shows::unreadable) notes_.insert(reader.camera().name + ": " + seen->words);
    all.push_back(std::move(*seen));
  }
  return all;
}

Words Maker::words_at(std::int64_t picture) const {
  const SessionTime t = pace_.at(picture);
  const int speed = pace_.speed_milli_at(picture);
  Words words;
  words.clock = to_short_clock_text(Length{t.time_since_epoch().count() / 1'000'000'000 * 1'000'000'000});
  if (speed != 1000) words.clock += "   " + speed_text(speed);
  const Caption* inner = nullptr;
  for (const Caption& caption : plan_.captions) {
    const bool later = inner == nullptr || caption.range.begin() >= inner->range.begin();
    if (caption.range.contains(t) && later) inner = &caption;
  }
  if (inner != nullptr) {
    words.doing = inner->doing;
    words.people = inner->people;
  }
  for (const Moment& mark : plan_.marks) {
    const std::int64_t first = pace_.picture_at(mark.at);
    const bool stands = picture >= first && pace_.film_time(picture) - pace_.film_time(first) < mark_stands;
    if (stands && mark.at >= pace_.at(0)) words.mark = mark.words;
  }
  words.part_done = static_cast<double>(picture + 1) / static_cast<double>(pace_.count());
  return words;
}

Done Maker::write_sound(media::Writer& writer, std::int64_t picture) {
  const std::int64_t until = scaled((picture + 1) * plan_.rate.den, sound_rate_hz, plan_.rate.num);
  std::array<float, 1024> fresh{};
  std::vector<float> out;
  while (samples_ < until) {
    out.resize(static_cast<std::size_t>(until - samples_));
    out.resize(tempo_->take(out));
    if (out.empty()) {
      if (const Done read = track_->read(fresh); !read) return read;
      tempo_->put(fresh);
      continue;
    }
    samples_ += static_cast<std::int64_t>(out.size());
    if (const Done wrote = writer.write(out); !wrote) return wrote;
  }
  if (!track_->trouble().empty()) notes_.insert("Sound: " + track_->trouble());
  return {};
}

Done Maker::write_all(media::Writer& writer, const std::function<void(double)>& reached) {
  for (std::int64_t picture = 0; picture < pace_.count(); ++picture) {
    if (stop_.stop_requested()) return Error{Code::cancelled, "The film was stopped."};
    const auto seen = look(pace_.at(picture));
    if (!seen) return seen.error();
    if (const Done wrote = writer.write(page_.draw(*seen, words_at(picture))); !wrote) return wrote;
    if (track_) {
      if (const Done wrote = write_sound(writer, picture); !wrote) return wrote;
    }
    if (reached) reached(static_cast<double>(picture + 1) / static_cast<double>(pace_.count()));
  }
  return writer.finish();
}

}  // namespace

PictureRate film_rate(const std::vector<Camera>& cameras, int speed_milli) {
  constexpr std::array<PictureRate, 8> usual{
      {{24000, 1001}, {24, 1}, {25, 1}, {30000, 1001}, {30, 1}, {50, 1}, {60000, 1001}, {60, 1}}};
  Length shortest{0};
  for (const Camera& camera : cameras) {
    for (const Clip& clip : camera.clips) {
      if (clip.picture_length <= Length{0} || clip.pieces.empty()) continue;
      shortest = shortest == Length{0} ? clip.picture_length : std::min(shortest, clip.picture_length);
    }
  }
  if (shortest == Length{0}) return {30, 1};
  PictureRate nearest{30, 1};
  std::int64_t least = std::int64_t{1} << 62;
  for (const PictureRate& rate : usual) {
    if (speed_milli > 1000 && rate.num > 30 * rate.den) break;
    const std::int64_t off = std::abs(scaled(rate.den, 1'000'000'000, rate.num) - shortest.count());
    if (off < least) nearest = rate, least = off;
  }
  return nearest;
}

Result<FilmReport> make_film(const FilmPlan& plan, const std::filesystem::path& to, const std::stop_token& stop,
                             const std::function<void(double)>& reached) {
  Maker maker{plan, stop};
  auto writer = media::Writer::open(to, maker.settings());
  if (!writer) return writer.error();
  if (const Done done = maker.write_all(*writer, reached); !done) return done.error();
  return maker.report();
}

}  // namespace jigtime::film
