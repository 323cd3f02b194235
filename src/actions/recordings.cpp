#include "actions/recordings.h"

#include <algorithm>
#include <cctype>
#include <map>
#include <optional>

#include "actions/scan.h"

namespace jigtime::actions {
namespace {

using media::MediaInfo;

/// Clocks run by different parts of a device may part a little over one file: 200 ppm of its length, and a picture or
/// two.
Length slack(const MediaInfo& info) { return std::chrono::milliseconds{250} + info.length / 5000; }

Length day_wrapped(Length difference) {
  constexpr Length day = std::chrono::hours{24};
  while (difference > day / 2) difference -= day;
  while (difference < -day / 2) difference += day;
  return difference;
}

/// A clock that lost its setting begins at its factory date whenever it gets power: the first of a January, minutes
/// after midnight or noon (common practice, no source). Then two recordings have one stamp, too.
bool begun_anew(const ClockReading& reading) {
  if (reading.kind == ClockKind::time_of_day) return false;
  const std::chrono::sys_time<Length> when{reading.since_epoch};
  const auto day = std::chrono::floor<std::chrono::days>(when);
  const std::chrono::year_month_day date{day};
  return date.month() == std::chrono::January && date.day() == std::chrono::day{1} &&
         (when - day) % std::chrono::hours{12} < std::chrono::minutes{10};
}

/// Beginnings differ by the first file's length, ends by the second's. What is taken for beginnings may be ends: that
/// shows where the files would overlap otherwise. Where they would not, there was a pause of just that length.
Follows stamps_follow(const ClockReading& a, const ClockReading& b, const MediaInfo& before, const MediaInfo& after) {
  Length difference = b.since_epoch - a.since_epoch;
  if (a.kind == ClockKind::time_of_day) difference = day_wrapped(difference);
  const Length tolerance = (a.resolution + b.resolution) / 2 + slack(before);
  const auto fits = [&](Length wanted) { return std::chrono::abs(difference - wanted) <= tolerance; };
  if (a.source == ClockSource::file_time) {
    if (fits(after.length)) return Follows::yes;
    // Copying gives all files of a card nearly the same time: that says nothing. A longer wait is a real pause.
    return difference > after.length + tolerance ? Follows::no : Follows::unknown;
  }
  const bool both_end = a.edge == ClockEdge::end && b.edge == ClockEdge::end;
  if (!both_end && fits(before.length)) return Follows::yes;
  if ((both_end || after.length < before.length) && fits(after.length)) return Follows::yes;
  if (difference == Length{0}) return begun_anew(a) ? Follows::unknown : Follows::same_stamp;
  return Follows::no;
}

struct Token {
  bool number = false;
  std::string text;
};

std::vector<Token> tokens_of(std::string_view name) {
  std::vector<Token> tokens;
  for (const char c : name) {
    const bool number = std::isdigit(static_cast<unsigned char>(c)) != 0;
    if (tokens.empty() || tokens.back().number != number) tokens.push_back({number, {}});
    tokens.back().text += c;
  }
  return tokens;
}

bool one_higher(const Token& a, const Token& b) {
  if (a.number != b.number) return false;
  if (a.number) {
    if (a.text.size() > 15 || b.text.size() > 15) return false;
    return std::stoll(b.text) == std::stoll(a.text) + 1;
  }
  return a.text.size() == b.text.size() && a.text.substr(0, a.text.size() - 1) == b.text.substr(0, b.text.size() - 1) &&
         std::isalpha(static_cast<unsigned char>(a.text.back())) != 0 && b.text.back() == a.text.back() + 1;
}

bool belong_together(const Footage& before, const Footage& after, const PicturesGoOn& goes_on) {
  if (!same_form(before.info, after.info)) return false;
  const Follows clocks = clocks_follow(before.info, after.info);
  const bool numbered = numbers_follow(before.path.stem().string(), after.path.stem().string());
  const bool worth_a_look = clocks == Follows::yes || (clocks == Follows::same_stamp && numbered);
  return worth_a_look && goes_on(before, after);
}

}  // namespace

const ClockReading* reading_of(const MediaInfo& info, ClockSource source) {
  const auto found =
      std::find_if(info.clocks.begin(), info.clocks.end(), [&](const ClockReading& r) { return r.source == source; });
  return found == info.clocks.end() ? nullptr : &*found;
}

bool same_form(const MediaInfo& a, const MediaInfo& b) {
  if (a.container != b.container || a.picture.has_value() != b.picture.has_value() ||
      a.sound.has_value() != b.sound.has_value()) {
    return false;
  }
  if (a.picture) {
    const auto& p = *a.picture;
    const auto& q = *b.picture;
    if (p.codec != q.codec || p.width != q.width || p.height != q.height || p.rotation_degrees != q.rotation_degrees)
      return false;
    // Nominal rates may be estimated from stamps: alike within one percent, and worth nothing in a last part of a few
    // pictures.
    const auto x = static_cast<std::int64_t>(p.rate_num) * q.rate_den;
    const auto y = static_cast<std::int64_t>(q.rate_num) * p.rate_den;
    const bool told = a.length > std::chrono::seconds{1} && b.length > std::chrono::seconds{1};
    if (told && std::abs(x - y) * 100 > std::max(x, y)) return false;
  }
  if (a.sound) {
    const auto& p = *a.sound;
    const auto& q = *b.sound;
    if (p.codec != q.codec || p.sample_rate_hz != q.sample_rate_hz || p.channels != q.channels) return false;
  }
  return true;
}

Follows clocks_follow(const MediaInfo& before, const MediaInfo& after) {
  for (const ClockSource source :
       {ClockSource::timecode, ClockSource::container, ClockSource::name, ClockSource::file_time}) {
    const ClockReading* a = reading_of(before, source);
    const ClockReading* b = reading_of(after, source);
    if (a == nullptr || b == nullptr || a->kind != b->kind) continue;
    const Follows told = stamps_follow(*a, *b, before, after);
    // A timecode that all parts share, or one that stands still, says nothing about the parts.
    if (source == ClockSource::timecode && told == Follows::same_stamp) continue;
    return told;
  }
  return Follows::unknown;
}

bool numbers_follow(std::string_view before, std::string_view after) {
  const std::vector<Token> a = tokens_of(before);
  const std::vector<Token> b = tokens_of(after);
  if (a.size() != b.size()) return false;
  int higher = 0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (a[i].text == b[i].text) continue;
    if (!a[i].number && i + 1 != a.size()) return false;
    if (!one_higher(a[i], b[i])) return false;
    ++higher;
  }
  return higher == 1;
}

std::vector<std::vector<std::size_t>> join_recordings(std::span<const Footage> footage, const PicturesGoOn& goes_on) {
  std::vector<std::size_t> order(footage.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return natural_less(footage[a].path.native(), footage[b].path.native());
  });

  // Numbered neighbours are asked first, then everybody: each file has at most one before it and one after it.
  std::map<std::size_t, std::size_t> next;
  std::map<std::size_t, std::size_t> previous;
  const auto try_pair = [&](std::size_t a, std::size_t b) {
    if (a == b || next.contains(a) || previous.contains(b)) return;
    for (std::size_t i = b; next.contains(i); i = next.at(i)) {
      if (next.at(i) == a) return;
    }
    if (belong_together(footage[a], footage[b], goes_on)) {
      next[a] = b;
      previous[b] = a;
    }
  };
  for (const bool numbered_only : {true, false}) {
    for (const std::size_t a : order) {
      for (const std::size_t b : order) {
        if (numbered_only && !numbers_follow(footage[a].path.stem().string(), footage[b].path.stem().string()))
          continue;
        try_pair(a, b);
      }
    }
  }

  std::vector<std::vector<std::size_t>> recordings;
  for (const std::size_t first : order) {
    if (previous.contains(first)) continue;
    std::vector<std::size_t> parts{first};
    while (next.contains(parts.back())) parts.push_back(next.at(parts.back()));
    recordings.push_back(std::move(parts));
  }
  return recordings;
}

}  // namespace jigtime::actions
