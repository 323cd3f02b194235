#include "report/clean.h"
#include "report/report.h"

namespace jigtime::report {
namespace {

std::string_view entity(char c) {
  switch (c) {
    case '&': return "&amp;";
    case '<': return "&lt;";
    case '>': return "&gt;";
    case '"': return "&quot;";
    case '\'': return "&#39;";
    default: return {};
  }
}

}  // namespace

std::string html_escaped(std::string_view text) {
  const std::string cleaned = clean(text);
  std::string escaped;
  escaped.reserve(cleaned.size());
  for (const char c : cleaned) {
    const std::string_view replacement = entity(c);
    if (replacement.empty()) {
      escaped += c;
    } else {
      escaped += replacement;
    }
  }
  return escaped;
}

}  // namespace jigtime::report
