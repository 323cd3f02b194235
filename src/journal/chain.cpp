#include <algorithm>

#include "base/text.h"
#include "journal/seal.h"
#include "journal/seal_lines.h"

namespace jigtime::journal {
namespace {

/// What next_entry puts below the canonical text.
std::string signature(int number, WallTime sealed_at) {
  Lines lines;
  lines.add("entry", std::to_string(number));
  lines.add("sealed at", exact_text(sealed_at));
  return lines.text();
}

/// Where the signature of an entry's text begins; npos when it has none.
std::size_t signature_at(std::string_view text) {
  const std::size_t at = text.rfind("\nentry: ");
  return at == std::string_view::npos ? at : at + 1;
}

std::string amendment_text(int amended, const Entry& amendment) {
  Lines lines;
  lines.add("amendment of entry", std::to_string(amended));
  lines.add("reason", amendment.reason);
  lines.add("before", amendment.before);
  lines.add("after", amendment.after);
  return lines.text() + signature(amendment.number, amendment.sealed_at);
}

/// The number of the sealing that an amendment belongs to; 0 for none before it.
int amended_by(const Entry& amendment, const std::vector<const Entry*>& ordered) {
  for (const Entry* entry : ordered) {
    if (entry->number >= amendment.number) break;
    if (entry->kind == EntryKind::sealing && entry->session == amendment.session) return entry->number;
  }
  return 0;
}

std::string named(int number) { return "Entry " + std::to_string(number); }

std::optional<std::string> fault_of(const Entry& entry, int expected, std::string_view previous,
                                    const Sha256Hex& sha256) {
  if (entry.number < expected) return named(entry.number) + " is there more than once.";
  if (entry.number > expected) return named(expected) + " is missing.";
  if (entry.previous != previous) {
    return named(entry.number) + " does not follow from the one before it: that one was altered or exchanged.";
  }
  if (entry.digest != chain_digest(entry.previous, entry.text, sha256)) {
    return named(entry.number) + " was altered after it was sealed: its text and its digest do not agree.";
  }
  const std::size_t at = signature_at(entry.text);
  if (at != std::string_view::npos && entry.text.substr(at) != signature(entry.number, entry.sealed_at)) {
    return named(entry.number) + " carries another number or moment of sealing than its text.";
  }
  return std::nullopt;
}

/// True for what a person wrote. Notes of import and line-up are numbered and so end in a digit.
bool holds_words(std::string_view key) {
  const std::size_t blank = key.find_last_of(' ');
  const std::string_view last = blank == std::string_view::npos ? key : key.substr(blank + 1);
  constexpr std::string_view plain[] = {"build",   "registration", "place",   "name",     "title", "assembly",
                                        "sheet",   "step",         "note",    "call-out", "words", "with",
                                        "because", "person",       "licence", "findings", "stage"};
  if (key.ends_with("looked at")) return true;
  return std::find(std::begin(plain), std::end(plain), last) != std::end(plain);
}

}  // namespace

std::string chain_digest(std::string_view previous, std::string_view text, const Sha256Hex& sha256) {
  return sha256(std::string{previous} + "\n" + std::string{text});
}

Entry next_entry(const std::vector<Entry>& entries, const Build& build, const Register& known,
                 const SessionRecord& record, WallTime sealed_at, const Sha256Hex& sha256) {
  Entry entry;
  entry.session = record.session.id;
  entry.number = entries.empty() ? 1 : entries.back().number + 1;
  entry.sealed_at = sealed_at;
  entry.text = canonical_text(build, known, record) + signature(entry.number, sealed_at);
  entry.previous = entries.empty() ? std::string{no_digest} : entries.back().digest;
  entry.digest = chain_digest(entry.previous, entry.text, sha256);
  return entry;
}

Entry next_amendment(const std::vector<Entry>& entries, const Entry& entry, const std::string& reason,
                     const std::string& before, const std::string& after, WallTime at, const Sha256Hex& sha256) {
  Entry amendment;
  amendment.session = entry.session;
  amendment.number = entries.empty() ? 1 : entries.back().number + 1;
  amendment.sealed_at = at;
  amendment.kind = EntryKind::amendment;
  amendment.reason = reason;
  amendment.before = before;
  amendment.after = after;
  amendment.text = amendment_text(entry.number, amendment);
  amendment.previous = entries.empty() ? std::string{no_digest} : entries.back().digest;
  amendment.digest = chain_digest(amendment.previous, amendment.text, sha256);
  return amendment;
}

std::string_view record_text(const Entry& entry) {
  return std::string_view{entry.text}.substr(0, signature_at(entry.text));
}

std::optional<ChainFault> first_fault(const std::vector<Entry>& entries, const Sha256Hex& sha256) {
  std::vector<const Entry*> ordered;
  for (const Entry& entry : entries) ordered.push_back(&entry);
  std::stable_sort(ordered.begin(), ordered.end(),
                   [](const Entry* a, const Entry* b) { return a->number < b->number; });
  std::string previous{no_digest};
  int expected = 1;
  for (const Entry* entry : ordered) {
    if (entry->kind == EntryKind::amendment && entry->text != amendment_text(amended_by(*entry, ordered), *entry)) {
      return ChainFault{std::min(entry->number, expected),
                        named(entry->number) + " is an amendment whose text and whose parts do not agree."};
    }
    if (auto fault = fault_of(*entry, expected, previous, sha256)) {
      return ChainFault{std::min(entry->number, expected), std::move(*fault)};
    }
    previous = entry->digest;
    ++expected;
  }
  return std::nullopt;
}

std::string written_words(std::string_view entry_text) {
  std::string words;
  for (const std::string& line : split(entry_text, '\n')) {
    const std::size_t colon = line.find(": ");
    if (colon == std::string::npos || colon + 2 == line.size() || !holds_words(line.substr(0, colon))) continue;
    words += unescaped(std::string_view{line}.substr(colon + 2));
    words += '\n';
  }
  return words;
}

}  // namespace jigtime::journal
