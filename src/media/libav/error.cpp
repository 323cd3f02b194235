#include "media/libav/error.h"

#include <array>
#include <cerrno>
#include <cstdarg>
#include <mutex>
#include <system_error>

#include "base/text.h"
#include "media/libav/handles.h"

namespace jigtime::media {
namespace {

thread_local std::string complaint;

void keep_complaint(void* source, int level, const char* format, va_list arguments) {
  if (level > AV_LOG_ERROR) return;
  std::array<char, 512> line{};
  int print_prefix = 0;
  av_log_format_line2(source, level, format, arguments, line.data(), static_cast<int>(line.size()), &print_prefix);
  complaint = to_utf8(trimmed(line.data()));
}

Code code_of(int code) {
  switch (code) {
    case AVERROR_EXIT: return Code::cancelled;
    case AVERROR_DECODER_NOT_FOUND:
    case AVERROR_ENCODER_NOT_FOUND:
    case AVERROR_DEMUXER_NOT_FOUND:
    case AVERROR_MUXER_NOT_FOUND:
    case AVERROR_PATCHWELCOME:
    case AVERROR(ENOSYS): return Code::unsupported;
    case AVERROR(ENOENT): return Code::not_found;
    case AVERROR(EACCES):
    case AVERROR(EPERM):
    case AVERROR(EROFS): return Code::denied;
    case AVERROR(ENOSPC):
    case AVERROR(EDQUOT):
    case AVERROR(EFBIG): return Code::no_space;
    case AVERROR(EBUSY):
    case AVERROR(ETXTBSY): return Code::busy;
    case AVERROR(ENOMEM): return Code::internal;
    default: return Code::unreadable;
  }
}

std::string_view next_step(Code code) {
  switch (code) {
    case Code::denied: return " Check who may read and write there.";
    case Code::no_space: return " Free some space and try again.";
    case Code::unreadable: return " Copy it again from the card; if it is the same there, it cannot be read.";
    case Code::unsupported: return " Convert it to H.264 and AAC in an MP4 file.";
    default: return "";
  }
}

}  // namespace

Error from_libav(int code, std::string_view sentence, Deed deed) {
  Code ours = code_of(code);
  // Nothing of the builder's is damaged when a new file cannot be made: without a better reason it is our mistake.
  if (ours == Code::unreadable && deed == Deed::writing) ours = Code::internal;
  if (ours == Code::cancelled) return {ours, std::string{sentence} + ": stopped as asked."};
  std::array<char, AV_ERROR_MAX_STRING_SIZE> text{};
  av_strerror(code, text.data(), text.size());
  std::string message = std::string{sentence} + " (" + text.data();
  if (!complaint.empty()) message += "; " + complaint;
  const bool of_the_place = ours == Code::denied || ours == Code::no_space;
  return {ours, message + ")." + std::string{deed == Deed::reading || of_the_place ? next_step(ours) : ""}};
}

Error from_errno(int number, std::string_view sentence) {
  const Code ours = code_of(AVERROR(number));
  return {ours,
          std::string{sentence} + " (" + std::generic_category().message(number) + ")." + std::string{next_step(ours)}};
}

void quieten_libav() {
  static std::once_flag once;
  std::call_once(once, [] { av_log_set_callback(keep_complaint); });
}

std::string last_complaint() { return complaint; }
void forget_complaint() { complaint.clear(); }

}  // namespace jigtime::media
