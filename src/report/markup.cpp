#include "report/markup.h"

#include "report/report.h"

namespace jigtime::report {

void Markup::start(std::string_view tag, Attributes attributes) {
  written_.append("<").append(tag);
  for (const auto& [name, value] : attributes) {
    written_.append(" ").append(name).append("=\"").append(html_escaped(value)).append("\"");
  }
}

Markup& Markup::open(std::string_view tag, Attributes attributes) {
  start(tag, attributes);
  written_ += ">";
  open_.push_back(tag);
  return *this;
}

Markup& Markup::close() {
  if (open_.empty()) return *this;
  const std::string_view tag = open_.back();
  written_.append("</").append(tag).append(">");
  // Between words of a line a line feed would show as a blank, or as a new line where those are kept.
  if (tag != "b" && tag != "span") written_ += "\n";
  open_.pop_back();
  return *this;
}

Markup& Markup::text(std::string_view text) {
  written_ += html_escaped(text);
  return *this;
}

Markup& Markup::element(std::string_view tag, std::string_view content, Attributes attributes) {
  return open(tag, attributes).text(content).close();
}

Markup& Markup::leaf(std::string_view tag, Attributes attributes) {
  start(tag, attributes);
  written_ += "/>\n";
  return *this;
}

Markup& Markup::verbatim(std::string_view ours) {
  written_ += ours;
  return *this;
}

std::string Markup::finish() {
  while (!open_.empty()) close();
  return std::exchange(written_, {});
}

}  // namespace jigtime::report
