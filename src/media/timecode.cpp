#include "media/timecode.h"

namespace jigtime::media {
namespace {

/// Two digits at `at`; -1 when they are not there.
int two_digits(std::string_view text, std::size_t at) {
  const auto digit = [&](std::size_t i) { return text[i] >= '0' && text[i] <= '9' ? text[i] - '0' : -100; };
  const int value = digit(at) * 10 + digit(at + 1);
  return value < 0 ? -1 : value;
}

int dropped_a_minute(int nominal_rate) { return nominal_rate == 30 ? 2 : nominal_rate == 60 ? 4 : 0; }

}  // namespace

std::optional<Timecode> parse_timecode(std::string_view text) {
  if (text.size() != 11 || text[2] != ':' || text[5] != ':') return std::nullopt;
  const char last = text[8];
  if (last != ':' && last != ';' && last != '.') return std::nullopt;
  const Timecode label{two_digits(text, 0), two_digits(text, 3), two_digits(text, 6), two_digits(text, 9),
                       last == ':' ? FrameCount::non_drop : FrameCount::drop_frame};
  const auto within = [](int value, int below) { return value >= 0 && value < below; };
  if (!within(label.hours, 24) || !within(label.minutes, 60) || !within(label.seconds, 60) || label.frames < 0) {
    return std::nullopt;
  }
  return label;
}

std::optional<std::int64_t> frame_number(const Timecode& label, int nominal_rate) {
  if (nominal_rate <= 0 || label.frames >= nominal_rate) return std::nullopt;
  const std::int64_t minutes = std::int64_t{60} * label.hours + label.minutes;
  const std::int64_t labels = (minutes * 60 + label.seconds) * nominal_rate + label.frames;
  if (label.count == FrameCount::non_drop) return labels;
  const int dropped = dropped_a_minute(nominal_rate);
  if (dropped == 0) return std::nullopt;
  if (label.seconds == 0 && label.frames < dropped && label.minutes % 10 != 0) return std::nullopt;
  return labels - dropped * (minutes - minutes / 10);
}

std::optional<Length> time_of_day(const Timecode& label, int rate_num, int rate_den) {
  if (rate_num <= 0 || rate_den <= 0) return std::nullopt;
  const auto nominal = static_cast<int>(scaled(rate_num, 1, rate_den));
  const std::optional<std::int64_t> frames = frame_number(label, nominal);
  if (!frames) return std::nullopt;
  if (label.count == FrameCount::drop_frame) {
    return Length{scaled(*frames, std::int64_t{rate_den} * 1'000'000'000, rate_num)};
  }
  return Length{scaled(*frames, 1'000'000'000, nominal)};
}

}  // namespace jigtime::media
