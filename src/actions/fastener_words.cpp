#include "actions/fastener_words.h"

#include "actions/shop.h"
#include "base/text.h"
#include "handbook/callout.h"
#include "journal/fasteners.h"

namespace jigtime::actions {

Result<journal::FastenerLine> parse_fastener(const std::string& text) {
  const auto counted = parse_counted(text, "CALLOUT=SET[-DRILLED][:METHOD]");
  if (!counted) return counted.error();
  const std::string_view count = counted->count;
  const std::size_t colon = count.find(':');
  const std::string_view numbers = trimmed(count.substr(0, colon));
  const std::size_t dash = numbers.find('-');
  const auto set = parse_count(trimmed(numbers.substr(0, dash)));
  const auto drilled =
      dash == std::string_view::npos ? std::optional{0} : parse_count(trimmed(numbers.substr(dash + 1)));
  if (!set || !drilled) {
    return Error{Code::invalid,
                 "\"" + text +
                     "\": behind the = stands the number set, at most 99999, and after a dash the number "
                     "drilled out again, for example MS20470AD4-5=12-1."};
  }
  const auto callout = handbook::parse_callout(counted->callout);
  if (!callout) return callout.error();
  const bool blind = callout->kind == handbook::FastenerKind::blind;
  journal::FastenerLine line{counted->callout, blind ? journal::Method::pulled : journal::Method::driven, *set,
                             *drilled};
  if (colon == std::string_view::npos) return line;
  const auto method = journal::parse_method(trimmed(count.substr(colon + 1)));
  if (!method) {
    return Error{Code::invalid, "\"" + text +
                                    "\": behind the colon stands how they were set: driven, squeezed, pulled or other, "
                                    "for example MS20470AD4-5=12-1:squeezed."};
  }
  line.method = *method;
  return line;
}

}  // namespace jigtime::actions
