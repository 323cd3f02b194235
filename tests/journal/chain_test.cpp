#include <doctest/doctest.h>

#include <functional>
#include <string>

#include "journal/sample.h"
#include "journal/seal.h"

using namespace jigtime;
using namespace jigtime::journal;
using namespace jigtime::test;

namespace {

/// Not SHA-256: the chain must hold with whatever digest it is given. 64 hex digits of a 64-bit FNV-1a.
std::string stand_in(std::string_view bytes) {
  std::uint64_t hash = 14'695'981'039'346'656'037ULL;
  for (const char c : bytes) hash = (hash ^ static_cast<unsigned char>(c)) * 1'099'511'628'211ULL;
  std::string hex(64, '0');
  for (std::size_t i = 0; i < 16; ++i) hex[63 - i] = "0123456789abcdef"[hash >> (4 * i) & 15U];
  return hex;
}

std::vector<Entry> three_entries() {
  std::vector<Entry> entries;
  for (int number = 1; number <= 3; ++number) {
    SessionRecord record = sample_record();
    record.session.id = {number};
    record.session.date = std::chrono::year{2026} / 3 / std::chrono::day{static_cast<unsigned>(number)};
    const WallTime sealed_at{1'773'600'000s + std::chrono::hours{number}};
    entries.push_back(next_entry(entries, sample_build(), sample_register(), record, sealed_at, stand_in));
  }
  return entries;
}

std::string fault(const std::vector<Entry>& entries) {
  const auto found = first_fault(entries, stand_in);
  return found ? std::to_string(found->number) + ": " + found->what : "none";
}

}  // namespace

TEST_CASE("entries made one after the other form a chain") {
  const std::vector<Entry> entries = three_entries();
  CHECK(fault(entries) == "none");
  CHECK(entries[0].previous == no_digest);
  CHECK(entries[2].previous == entries[1].digest);
  CHECK(entries[2].number == 3);
}

TEST_CASE("no entries are a whole chain") { CHECK(fault({}) == "none"); }

TEST_CASE("the order the entries are handed in does not matter") {
  std::vector<Entry> entries = three_entries();
  std::swap(entries[0], entries[2]);
  CHECK(fault(entries) == "none");
}

TEST_CASE("an entry ends with its number and moment, under the digest") {
  const Entry entry = three_entries()[1];
  CHECK(entry.text.ends_with("\nentry: 2\nsealed at: 2026-03-15T20:40:00.000000000Z\n"));
  CHECK(entry.digest == stand_in(entry.previous + "\n" + entry.text));
}

TEST_CASE("an entry's record text is the canonical text, with or without a signature below it") {
  Entry entry = three_entries()[0];
  SessionRecord record = sample_record();
  record.session.date = std::chrono::year{2026} / 3 / 1;
  const std::string text = canonical_text(sample_build(), sample_register(), record);
  CHECK(record_text(entry) == text);
  entry.text = text;
  CHECK(record_text(entry) == text);
}

TEST_CASE("every alteration of a chain is found at its first entry") {
  struct Row {
    std::string what;
    std::function<void(std::vector<Entry>&)> make;
    std::string said;
  };
  const std::vector<Row> rows = {
      {"text", [](auto& e) { e[1].text[10] = 'x'; }, "2: Entry 2 was altered"},
      {"text and digest",
       [](auto& e) {
         e[1].text[10] = 'x';
         e[1].digest = chain_digest(e[1].previous, e[1].text, stand_in);
       },
       "3: Entry 3 does not follow"},
      {"digest", [](auto& e) { e[0].digest[63] = e[0].digest[63] == '0' ? '1' : '0'; }, "1: Entry 1 was altered"},
      {"missing first", [](auto& e) { e.erase(e.begin()); }, "1: Entry 1 is missing"},
      {"missing middle", [](auto& e) { e.erase(e.begin() + 1); }, "2: Entry 2 is missing"},
      {"twice", [](auto& e) { e.push_back(e[2]); }, "3: Entry 3 is there more than once"},
      {"exchanged", [](auto& e) { std::swap(e[1].text, e[2].text); }, "2: Entry 2 was altered"},
      {"moment", [](auto& e) { e[1].sealed_at += 1ns; }, "2: Entry 2 carries another number or moment"},
      {"renumbered last", [](auto& e) { e[2].number = 4; }, "3: Entry 3 is missing"},
      {"number zero", [](auto& e) { e[0].number = 0; }, "0: Entry 0"},
      {"foreign start", [](auto& e) { e[0].previous = std::string(64, 'f'); }, "1: Entry 1 does not follow"},
  };
  for (const Row& row : rows) {
    std::vector<Entry> entries = three_entries();
    row.make(entries);
    CAPTURE(row.what);
    const std::string said = fault(entries);
    CAPTURE(said);
    CHECK(said.rfind(row.said, 0) == 0);
  }
}

TEST_CASE("what people wrote in an entry is found and its figures are not") {
  SessionRecord record = sample_record();
  record.spans[0].note = "Smile\nin the skin";
  const std::string words = written_words(next_entry({}, sample_build(), sample_register(), record, {}, stand_in).text);
  for (const std::string wanted : {"Two-seat low wing\n", "Ana\n", "Rivet the skin\n", "MS20426AD3-4.5\n",
                                   "First rivet.\n", "Smile\nin the skin\n", "a1.mp4\n", "Cold shed.\n"}) {
    CAPTURE(wanted);
    CHECK(words.find(wanted) != std::string::npos);
  }
  for (const std::string unwanted : {"clip", "0:05:00", "4294967", "squeezed", "dropout"}) {
    CAPTURE(unwanted);
    CHECK(words.find(unwanted) == std::string::npos);
  }
}
