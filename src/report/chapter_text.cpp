// Chapters as WebVTT and as ffmpeg's metadata.
#include <algorithm>

#include "report/clean.h"
#include "report/formats.h"
#include "report/words.h"

namespace jigtime::report {
namespace {

std::string two_digits(std::int64_t number) { return (number < 10 ? "0" : "") + std::to_string(number); }

std::string three_digits(std::int64_t number) { return (number < 100 ? "0" : "") + two_digits(number); }

/// W3C WebVTT, "WebVTT timestamp": hours of two digits or more.
std::string timestamp(std::int64_t ms) {
  return two_digits(ms / 3'600'000) + ":" + two_digits(ms / 60'000 % 60) + ":" + two_digits(ms / 1000 % 60) + "." +
         three_digits(ms % 1000);
}

std::int64_t to_ms(Length length) { return scaled(length.count(), 1, 1'000'000); }

/// One line; & and < begin something in cue text, and --> must not stand in it: > is escaped too.
std::string cue_text(std::string_view words) {
  std::string text;
  for (const char c : one_line(clean(words))) {
    switch (c) {
      case '&': text += "&amp;"; break;
      case '<': text += "&lt;"; break;
      case '>': text += "&gt;"; break;
      default: text += c;
    }
  }
  return text.empty() ? "-" : text;
}

/// ffmpeg manual, "Metadata": = ; # \ and a line feed are written behind a backslash.
std::string metadata_text(std::string_view words) {
  std::string text;
  for (const char c : clean(words)) {
    if (c == '=' || c == ';' || c == '#' || c == '\\' || c == '\n') text += '\\';
    text += c;
  }
  return text;
}

}  // namespace

std::string to_vtt(const FileChapters& file) {
  std::string text = "WEBVTT\n\nNOTE\nChapters of " + cue_text(file.file) + ", camera " + cue_text(file.camera) +
                     ". Written by Jigtime.\n";
  if (file.chapters.empty()) text += cue_text(file.why_empty) + "\n";
  int number = 0;
  for (const Chapter& chapter : file.chapters) {
    const std::int64_t begin = to_ms(chapter.begin);
    text += "\n" + std::to_string(++number) + "\n" + timestamp(begin) + " --> " +
            timestamp(std::max(begin + 1, to_ms(chapter.end))) + "\n" + cue_text(chapter.title) + "\n";
  }
  return text;
}

std::string to_ffmetadata(const std::string& title, const std::vector<Chapter>& chapters) {
  std::string text = ";FFMETADATA1\ntitle=" + metadata_text(one_line(title)) + "\n";
  for (const Chapter& chapter : chapters) {
    text += "[CHAPTER]\nTIMEBASE=1/1000\nSTART=" + std::to_string(to_ms(chapter.begin)) +
            "\nEND=" + std::to_string(to_ms(chapter.end)) + "\ntitle=" + metadata_text(one_line(chapter.title)) + "\n";
  }
  return text;
}

}  // namespace jigtime::report
