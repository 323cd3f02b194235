#include "report/pdf_update.h"

#include <algorithm>
#include <charconv>
#include <set>

#include "base/text.h"

namespace jigtime::report {
namespace {

constexpr std::string_view object_begin = " 0 obj\n<<";
constexpr std::string_view object_end = "endobj";
constexpr std::string_view page_mark = "<< /Type /Page % ";
constexpr std::string_view catalog_mark = "<< /Type /Catalog";
constexpr std::size_t longest_object = 1 << 20;
constexpr std::size_t tail_size = 2048;

std::int64_t number_at(std::string_view text) {
  std::int64_t number = -1;
  std::from_chars(text.data(), text.data() + text.size(), number);
  return number;
}

std::int64_t number_after(std::string_view text, std::string_view key) {
  const std::size_t at = text.rfind(key);
  return at == std::string_view::npos ? -1 : number_at(text.substr(at + key.size()));
}

/// The digits that end where the text ends.
int number_before(std::string_view text) {
  std::size_t from = text.size();
  while (from > 0 && text[from - 1] >= '0' && text[from - 1] <= '9') --from;
  return static_cast<int>(number_at(text.substr(from)));
}

/// The dictionary with every name in its list of pictures once; the same when none stands there twice.
std::string each_picture_once(std::string_view dictionary) {
  constexpr std::string_view list_begin = "/XObject <<";
  const std::size_t begin = dictionary.find(list_begin) + list_begin.size();
  const std::size_t end = dictionary.find(">>", begin);
  if (end == std::string_view::npos) return std::string{dictionary};
  // "/x48 48 0 R": a name, and what it refers to.
  const std::vector<std::string> words = split(trimmed(dictionary.substr(begin, end - begin)), ' ');
  std::string once;
  std::set<std::string> seen;
  for (std::size_t i = 0; i + 3 < words.size(); i += 4) {
    if (!seen.insert(words[i]).second) continue;
    once += " " + words[i] + " " + words[i + 1] + " " + words[i + 2] + " " + words[i + 3];
  }
  if (words.size() % 4 != 0 || seen.size() * 4 == words.size()) return std::string{dictionary};
  return std::string{dictionary.substr(0, begin)} + once + " " + std::string{dictionary.substr(end)};
}

/// ISO 32000-1, 7.3.4.2: a literal string.
std::string literal(std::string_view text) {
  std::string escaped = "(";
  for (const char c : text) {
    if (c == '(' || c == ')' || c == '\\') escaped += '\\';
    escaped += c;
  }
  return escaped + ")";
}

std::string annotation(const PdfLink& link) {
  return "<< /Type /Annot /Subtype /Link /Rect [ " + to_decimal_text(link.left, 2) + " " +
         to_decimal_text(link.bottom, 2) + " " + to_decimal_text(link.right, 2) + " " + to_decimal_text(link.top, 2) +
         " ] /Border [ 0 0 0 ] /Dest " + literal(link.destination) + " >>";
}

/// Exactly twenty bytes, as 7.5.4 asks for.
std::string table_entry(std::uint64_t offset) {
  std::string digits = std::to_string(offset);
  digits.insert(0, 10 - std::min<std::size_t>(10, digits.size()), '0');
  return digits + " 00000 n \n";
}

}  // namespace

void PdfUpdate::watch(std::string_view bytes) {
  size_ += bytes.size();
  tail_.append(bytes.substr(bytes.size() - std::min(bytes.size(), tail_size)));
  if (tail_.size() > 2 * tail_size) tail_.erase(0, tail_.size() - tail_size);
  pending_.append(bytes);
  for (;;) {
    const std::size_t begin = pending_.find(object_begin);
    if (begin == std::string::npos) {
      if (pending_.size() > 64) pending_.erase(0, pending_.size() - 64);
      return;
    }
    // A list of all that is tagged comes in thousands of pieces: what was searched is not searched again.
    const std::size_t from = std::max(begin, searched_ - std::min<std::size_t>(searched_, 8));
    const std::size_t end = pending_.find(object_end, from);
    const std::size_t stream = pending_.find("stream\n", from);
    if (std::min(end, stream) == std::string::npos && pending_.size() - begin < longest_object) {
      searched_ = pending_.size();
      return;
    }
    searched_ = 0;
    if (end < stream) {
      const std::size_t body = begin + object_begin.size() - 2;
      take_object(std::string_view{pending_}.substr(body, end - body),
                  number_before(std::string_view{pending_}.substr(0, begin)));
    }
    pending_.erase(0, begin + object_begin.size());
  }
}

void PdfUpdate::take_object(std::string_view body, int number) {
  const std::size_t close = body.rfind(">>");
  if (number <= 0 || close == std::string_view::npos) return;
  const std::string_view dictionary = body.substr(0, close + 2);
  if (dictionary.starts_with(page_mark)) {
    pages_[static_cast<int>(number_at(dictionary.substr(page_mark.size())))] = {number, std::string{dictionary}};
  } else if (dictionary.starts_with(catalog_mark) && dictionary.find("/StructTreeRoot") != std::string_view::npos) {
    // ISO 32000-1, 14.9.2: tagged text is read aloud in the language that the file names.
    mended_.push_back({number, std::string{dictionary.substr(0, dictionary.size() - 2)} + "   /Lang (en)\n>>"});
  } else if (dictionary.find("/XObject <<") != std::string_view::npos) {
    std::string once = each_picture_once(dictionary);
    if (once != dictionary) mended_.push_back({number, std::move(once)});
  }
}

std::string PdfUpdate::text() const {
  std::int64_t next = number_after(tail_, "/Size ");
  const std::int64_t root = number_after(tail_, "/Root ");
  const std::int64_t info = number_after(tail_, "/Info ");
  const std::int64_t previous = number_after(tail_, "startxref\n");
  if (next < 0 || root < 0 || previous < 0) return {};
  std::string text;
  std::map<std::int64_t, std::uint64_t> offsets;
  const auto write = [&](std::int64_t number, const std::string& content) {
    offsets[number] = size_ + text.size();
    text += std::to_string(number) + " 0 obj\n" + content + "\nendobj\n";
  };
  for (const Object& object : mended_) write(object.number, object.dictionary);
  for (const auto& [page, links] : links_) {
    const auto object = pages_.find(page);
    if (object == pages_.end()) continue;
    std::string list;
    for (const PdfLink& link : links) {
      list += " " + std::to_string(next) + " 0 R";
      write(next++, annotation(link));
    }
    std::string dictionary = object->second.dictionary;
    dictionary.insert(dictionary.size() - 2, "   /Annots [" + list + " ]\n");
    write(object->second.number, dictionary);
  }
  if (offsets.empty()) return {};
  const std::uint64_t table = size_ + text.size();
  text += "xref\n";
  for (const auto& [number, offset] : offsets) text += std::to_string(number) + " 1\n" + table_entry(offset);
  text += "trailer\n<< /Size " + std::to_string(next) + " /Root " + std::to_string(root) + " 0 R";
  if (info >= 0) text += " /Info " + std::to_string(info) + " 0 R";
  return text + " /Prev " + std::to_string(previous) + " >>\nstartxref\n" + std::to_string(table) + "\n%%EOF\n";
}

}  // namespace jigtime::report
