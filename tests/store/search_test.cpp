#include <doctest/doctest.h>

#include <random>
#include <set>

#include "journal/seal.h"
#include "store/filled.h"
#include "store/raw.h"
#include "store/refusal.h"
#include "store/search_private.h"
#include "support/temp_folder.h"

using namespace jigtime;
using namespace jigtime::journal;
using namespace jigtime::test;
using store::Edit;
using store::Hit;
using store::Store;

namespace {

std::vector<std::string> texts(const Store& store, const std::string& query, int most = 200) {
  std::vector<std::string> found;
  for (const Hit& hit : must(store.find(query, most))) found.push_back(hit.text);
  return found;
}

std::size_t count(const Store& store, const std::string& query) { return texts(store, query).size(); }

void mark(Store& store, const std::string& note) {
  must(edited(store, [&](Edit& edit) { return edit.add(Mark{{}, {1}, at(30min), note}); }));
}

/// The search rows that differ from what the record says now; looked at from outside.
std::string out_of_step(const std::filesystem::path& path) {
  return Raw{path}.value(
      "SELECT (SELECT count(*) FROM span_words LEFT JOIN search ON search.rowid = span_words.id * 16 "
      "WHERE search.body IS NOT span_words.body) + (SELECT count(*) FROM mark LEFT JOIN search "
      "ON search.rowid = mark.id * 16 + 1 WHERE search.body IS NOT mark.note) + (SELECT count(*) FROM item_words "
      "LEFT JOIN search ON search.rowid = item_words.id * 16 + 2 WHERE search.body IS NOT item_words.body) "
      "+ (SELECT count(*) FROM search WHERE rowid % 16 = 0 AND rowid / 16 NOT IN (SELECT id FROM span)) "
      "+ (SELECT count(*) FROM search WHERE rowid % 16 = 1 AND rowid / 16 NOT IN (SELECT id FROM mark)) "
      "+ (SELECT count(*) FROM search WHERE rowid % 16 = 2 AND rowid / 16 NOT IN (SELECT id FROM item)) "
      "+ (SELECT count(*) <> 1 FROM search WHERE rowid % 16 = 6)");
}

}  // namespace

TEST_CASE("a span is found by note, task, assembly, person and call-out") {
  const Store store = filled_store();
  for (const std::string query :
       {"oil", "Rivet the", "skin", "elevator", "tail", "Ana", "MS20426AD3-4.5", "MS20470AD4-5"}) {
    CAPTURE(query);
    const auto hits = must(store.find(query));
    REQUIRE(hits.size() >= 1);
    CHECK(hits[0].kind == Hit::Kind::span);
    CHECK(hits[0].session == SessionId{1});
    CHECK(hits[0].begin == at(5min));
    CHECK(hits[0].text ==
          "Rivet the skin; Tail / Elevator, left; Ana, Bo; MS20426AD3-4.5, MS20470AD4-5; Skin oil-cans.");
  }
}

TEST_CASE("a break and a mark are found where they are") {
  const Store store = filled_store();
  const auto tea = must(store.find("tea"));
  REQUIRE(tea.size() == 1);
  CHECK(tea[0].text == "break; Bo; Tea.");
  CHECK(tea[0].begin == at(20min));
  const auto first = must(store.find("first"));
  REQUIRE(first.size() == 1);
  CHECK(first[0].kind == Hit::Kind::mark);
  CHECK(first[0].begin == at(12min));
}

TEST_CASE("all words must occur, in any order, and their beginnings count") {
  Store store = filled_store();
  CHECK(count(store, "ana skin") == 1);
  CHECK(count(store, "SKIN ana") == 1);
  CHECK(count(store, "ski an") == 1);
  CHECK(count(store, "ana tea") == 0);
  CHECK(count(store, "kin") == 0);
}

TEST_CASE("accents and case make no difference, in the text or in the query") {
  Store store = filled_store();
  mark(store, "Élan of the Ångström CAFÉ señal");
  for (const std::string query : {"elan", "ÉLAN", "angstrom", "Cafe", "café", "SENAL", "señ"}) {
    CAPTURE(query);
    CHECK(count(store, query) == 1);
  }
}

TEST_CASE("any text is a valid query") {
  Store store = filled_store();
  mark(store, "He said \"stop\" NOT AND OR NEAR(a b)");
  for (const std::string query : {"\"",        "\"\"",
                                  "*",         "-",
                                  "a*",        "^skin",
                                  "body:skin", "NEAR(skin ana)",
                                  "(",         "))",
                                  "AND",       "OR NOT",
                                  "skin AND",  "'; DROP TABLE search;--",
                                  "{x}",       "+",
                                  "a+b",       "\\",
                                  "%",         "?1",
                                  ":a",        "\xFF\xFE",
                                  "梁",        "🛩",
                                  ".",         "-skin"}) {
    CAPTURE(query);
    CHECK(store.find(query).ok());
  }
  CHECK(store.find({"a\0b", 3}).ok());
  CHECK(count(store, "NOT AND OR near") == 1);
  CHECK(count(store, "\"stop\"") == 1);
  CHECK(count(store, "skin -") == 1);
}

TEST_CASE("random bytes never break a query") {
  const Store store = filled_store();
  std::mt19937 dice{17};
  const std::string alphabet = "\"'*()-+^: NEARANDORT{}\\\xC3\xA9\xFF\n\tsk";
  for (int round = 0; round < 3000; ++round) {
    std::string query;
    for (auto i = dice() % 14; i > 0; --i) query += alphabet[dice() % alphabet.size()];
    const auto found = store.find(query);
    CAPTURE(query);
    REQUIRE(found.ok());
  }
}

TEST_CASE("a query without a word finds nothing") {
  const Store store = filled_store();
  for (const std::string query : {"", " ", "\t\n", "--", "..."}) CHECK(count(store, query) == 0);
}

TEST_CASE("a renamed person or task is found by the new name only") {
  Store store = filled_store();
  must(edited(store, [](Edit& edit) { return edit.update(Person{{1}, "Zora", Role::builder}); }));
  CHECK(count(store, "zora") == 1);
  CHECK(count(store, "ana") == 0);
  must(edited(store, [](Edit& edit) { return edit.update(Task{{1}, "Buck the belly", std::nullopt, "", ""}); }));
  CHECK(count(store, "belly") == 1);
  CHECK(count(store, "rivet the") == 0);
  CHECK(count(store, "elevator") == 0);
}

TEST_CASE("what is removed is no longer found") {
  Store store = filled_store();
  must(edited(store, [](Edit& edit) { return edit.remove(SpanId{1}); }));
  must(edited(store, [](Edit& edit) { return edit.remove(MarkId{1}); }));
  CHECK(count(store, "skin") == 0);
  CHECK(count(store, "first") == 0);
}

TEST_CASE("an edit that was rolled back is not found") {
  Store store = filled_store();
  CHECK(!store.edit("mark", [](Edit& edit) -> Done {
    must(edit.add(Mark{{}, {1}, at(1s), "phantom"}));
    return Error{Code::cancelled, "No."};
  }));
  CHECK(count(store, "phantom") == 0);
}

TEST_CASE("a sealed session is found by its entry too, and a rename still reaches its spans") {
  Store store = filled_store();
  must(edited(store, [&](Edit& edit) {
    return edit.add(next_entry({}, sample_build(), sample_register(), record_of(store), {}, store::sha256_hex));
  }));
  const auto hits = must(store.find("oil"));
  REQUIRE(hits.size() == 2);
  CHECK(hits[0].kind == Hit::Kind::span);
  CHECK(hits[1].kind == Hit::Kind::entry);
  CHECK(!hits[1].begin.has_value());
  CHECK(hits[1].text.rfind("Entry 1: ", 0) == 0);
  CHECK(hits[1].text.find('\n') == std::string::npos);
  must(edited(store, [](Edit& edit) { return edit.update(Person{{1}, "Zora", Role::builder}); }));
  CHECK(must(store.find("zora")).size() == 1);
  CHECK(must(store.find("ana")).size() == 1);
}

TEST_CASE("the better match comes first, and no more come than wanted") {
  Store store = filled_store();
  mark(store, "clamp " + std::string{"and many other words that have nothing to do with it at all today"});
  mark(store, "clamp");
  mark(store, "clamp clamp clamp");
  const auto found = texts(store, "clamp");
  REQUIRE(found.size() == 3);
  CHECK(found[0] == "clamp clamp clamp");
  CHECK(found[2].size() > 20);
  CHECK(texts(store, "clamp", 2).size() == 2);
  CHECK(texts(store, "clamp", 0).empty());
  CHECK(texts(store, "clamp", -1).empty());
}

TEST_CASE("several lines of a note are shown as one") {
  Store store = filled_store();
  mark(store, "  pulled\n\n two \n");
  CHECK(texts(store, "pulled") == std::vector<std::string>{"pulled; two"});
}

TEST_CASE("quotes in a query are doubled, and every word is a beginning") {
  CHECK(store::as_query("a \"b c") == "\"a\"* \"\"\"b\"* \"c\"*");
  CHECK(store::as_query(" \t\n").empty());
}

TEST_CASE("after any mixture of edits the search rows say what the record says") {
  const TempFolder folder;
  const auto path = folder / "a.jigtime";
  Store store = must(Store::create(path, sample_build()));
  fill(store);
  std::mt19937 dice{23};
  const auto roll = [&](std::int64_t below) {
    return static_cast<std::int64_t>(dice() % static_cast<unsigned long>(below));
  };
  for (int round = 0; round < 60; ++round) {
    const Done done = store.edit("mixture", [&](Edit& edit) -> Done {
      Span span = sample_record().spans[static_cast<std::size_t>(roll(2))];
      span.id = {roll(12)};
      span.note = "note " + std::to_string(round);
      if (roll(2) == 0) span.people.resize(static_cast<std::size_t>(roll(2)));
      switch (roll(6)) {
        case 0: static_cast<void>(edit.add(span)); break;
        case 1: static_cast<void>(edit.update(span)); break;
        case 2: static_cast<void>(edit.remove(span.id)); break;
        case 3: must(edit.update(Person{{1 + roll(2)}, "Person " + std::to_string(round), Role::helper})); break;
        case 4: must(edit.update(Task{{1}, "Task " + std::to_string(round), AssemblyId{1 + roll(2)}, "", ""})); break;
        default: must(edit.add(Mark{{}, {1}, at(1s), "mark " + std::to_string(round)})); break;
      }
      if (roll(5) == 0) return Error{Code::cancelled, "rolled back"};
      return {};
    });
    static_cast<void>(done);
    CAPTURE(round);
    REQUIRE(out_of_step(path) == "0");
  }
  CHECK(Raw{path}.run("INSERT INTO search (search) VALUES ('integrity-check')") == "ok");
}
