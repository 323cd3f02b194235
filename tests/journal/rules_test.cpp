#include "journal/rules.h"

#include <doctest/doctest.h>

#include <functional>
#include <string>

#include "journal/refused.h"
#include "journal/sample.h"

using namespace jigtime;
using namespace jigtime::journal;
using namespace jigtime::test;

namespace {

struct Mistake {
  std::string what;
  std::function<void(Span&)> make;
  std::string said;
};

Span good_span() { return sample_record().spans[0]; }

}  // namespace

TEST_CASE("a span as a builder writes it is valid") {
  CHECK(check(good_span(), sample_register()).ok());
  CHECK(check(sample_record().spans[1], sample_register()).ok());
}

TEST_CASE("a reversed span is told how to mend it") {
  Span span = good_span();
  span.begin = at(20min);
  span.end = at(10min);
  CHECK(refused(check(span, sample_register())) ==
        "The span ends (0:10:00.000) before it begins (0:20:00.000). Swap --from and --to.");
}

TEST_CASE("every mistake in a span is refused with what to mend") {
  const std::vector<Mistake> mistakes = {
      {"empty", [](Span& s) { s.end = s.begin; }, "begins and ends at 0:05:00.000"},
      {"one nanosecond short", [](Span& s) { s.end = s.begin - 1ns; }, "before it begins"},
      {"before zero", [](Span& s) { s.begin = at(-1ns); }, "before the session does"},
      {"beyond reach", [](Span& s) { s.end = at(farthest + 1ns); }, "a hundred years"},
      {"no task", [](Span& s) { s.task = std::nullopt; }, "has no task"},
      {"unknown task", [](Span& s) { s.task = TaskId{9}; }, "Add the task first"},
      {"unknown person", [](Span& s) { s.people.push_back({9}); }, "Add the person first"},
      {"person twice", [](Span& s) { s.people.push_back({1}); }, "names Ana more than once"},
      {"none set", [](Span& s) { s.fasteners[0].set = 0; }, "at least 1"},
      {"negative set", [](Span& s) { s.fasteners[0].set = -3; }, "sets -3 of MS20426AD3-4.5"},
      {"too many set", [](Span& s) { s.fasteners[0].set = most_fasteners + 1; }, "Check the number"},
      {"negative drilled", [](Span& s) { s.fasteners[0].drilled = -1; }, "-1 cannot have been drilled out"},
      {"more drilled than set", [](Span& s) { s.fasteners[0].drilled = 32; }, "32 cannot have been drilled out"},
      {"no call-out", [](Span& s) { s.fasteners[0].callout = "rivet"; }, "does not name a standard"},
      {"empty call-out", [](Span& s) { s.fasteners[0].callout.clear(); }, "call-out is empty"},
      {"diameter that does not exist", [](Span& s) { s.fasteners[0].callout = "MS20470AD0-5"; }, "diameter"},
      {"other spelling", [](Span& s) { s.fasteners[0].callout = "an426ad3-4.5"; }, "as MS20426AD3-4.5. Write it so."},
      {"broken text", [](Span& s) { s.note = "\xC3("; }, "not UTF-8"},
      {"control character",
       [](Span& s) {
         s.note = std::string{"a\0b", 3};
       },
       "control character"},
  };
  for (const Mistake& mistake : mistakes) {
    Span span = good_span();
    mistake.make(span);
    CAPTURE(mistake.what);
    const std::string said = refused(check(span, sample_register()));
    CAPTURE(said);
    CHECK(holds(said, mistake.said));
    CHECK(said.back() == '.');
  }
}

TEST_CASE("the near side of every limit of a span is valid") {
  const std::vector<Mistake> limits = {
      {"at zero", [](Span& s) { s.begin = at(0s); }, ""},
      {"one nanosecond", [](Span& s) { s.end = s.begin + 1ns; }, ""},
      {"at reach", [](Span& s) { s.end = at(farthest); }, ""},
      {"nobody", [](Span& s) { s.people.clear(); }, ""},
      {"all drilled", [](Span& s) { s.fasteners[0].drilled = s.fasteners[0].set; }, ""},
      {"most set", [](Span& s) { s.fasteners[0].set = most_fasteners; }, ""},
      {"no fasteners", [](Span& s) { s.fasteners.clear(); }, ""},
      {"lines in a note", [](Span& s) { s.note = "a\r\n\tb"; }, ""},
      {"empty note", [](Span& s) { s.note.clear(); }, ""},
  };
  for (const Mistake& limit : limits) {
    Span span = good_span();
    limit.make(span);
    CAPTURE(limit.what);
    CHECK(check(span, sample_register()).ok());
  }
}

TEST_CASE("a break may name a task but sets no fasteners") {
  Span span = sample_record().spans[1];
  span.task = TaskId{1};
  CHECK(check(span, sample_register()).ok());
  span.fasteners = good_span().fasteners;
  CHECK(holds(refused(check(span, sample_register())), "A break sets no fasteners"));
}

TEST_CASE("a mark lies in the session and holds text") {
  Mark mark = sample_record().marks[0];
  CHECK(check(mark).ok());
  mark.at = at(0s);
  mark.note.clear();
  CHECK(check(mark).ok());
  mark.at = at(-1ns);
  CHECK(holds(refused(check(mark)), "before the session begins"));
  mark.at = at(farthest + 1ns);
  CHECK(holds(refused(check(mark)), "a hundred years"));
  mark.at = at(1s);
  mark.note = "\xFF";
  CHECK(holds(refused(check(mark)), "not UTF-8"));
}

TEST_CASE("a placement as the line-up finds it is valid") {
  CHECK(check(sample_placement({1}, {2}), sample_clip(1, {1})).ok());
  CHECK(check(Placement{{1}, Basis::none, {}, {}, {}}, sample_clip(1, {1})).ok());
}

TEST_CASE("every mistake in a placement is refused") {
  struct Row {
    std::string what;
    std::function<void(Placement&)> make;
    std::string said;
  };
  const std::vector<Row> rows = {
      {"another clip", [](Placement& p) { p.clip = {2}; }, "another clip than a1.mp4"},
      {"pieces without basis", [](Placement& p) { p.basis = Basis::none; }, "pieces but no basis"},
      {"basis without pieces", [](Placement& p) { p.pieces.clear(); }, "a basis but no pieces"},
      {"before the clip", [](Placement& p) { p.pieces[0].clip_from = ClipTime{-1ns}; }, "beyond the clip"},
      {"after the clip", [](Placement& p) { p.pieces[1].clip_to += 1ns; }, "which lasts 1:00:00.000"},
      {"empty piece", [](Placement& p) { p.pieces[0].clip_to = p.pieces[0].clip_from; }, "ends before it begins"},
      {"overlap", [](Placement& p) { p.pieces[1].clip_from -= 1ns; }, "Piece 2 of the placement of a1.mp4"},
      {"out of order", [](Placement& p) { std::swap(p.pieces[0], p.pieces[1]); }, "begins before"},
      {"backwards", [](Placement& p) { p.pieces[1].session_start = at(1s); }, "on the session clock"},
      {"too fast", [](Placement& p) { p.pieces[0].rate_ppb = most_rate_ppb + 1; }, "1000 ppm"},
      {"too slow", [](Placement& p) { p.pieces[0].rate_ppb = -most_rate_ppb - 1; }, "1000 ppm"},
      {"negative doubt", [](Placement& p) { p.pieces[0].sigma = -1ns; }, "negative standard error"},
      {"beyond reach", [](Placement& p) { p.pieces[0].session_start = at(-farthest - 1ns); }, "a hundred years"},
      {"evidence", [](Placement& p) { p.evidence[0].agreed = 13; }, "more windows agreed"},
  };
  for (const Row& row : rows) {
    Placement placement = sample_placement({1}, {2});
    row.make(placement);
    CAPTURE(row.what);
    const std::string said = refused(check(placement, sample_clip(1, {1})));
    CAPTURE(said);
    CHECK(holds(said, row.said));
  }
}

TEST_CASE("a camera may be off by exactly 1000 ppm") {
  Placement placement = sample_placement({1}, {2});
  placement.pieces[0].rate_ppb = most_rate_ppb;
  CHECK(check(placement, sample_clip(1, {1})).ok());
}

TEST_CASE("proposals are moments or ranges with a confidence in thousandths") {
  Proposal good = sample_record().proposals[0];
  CHECK(check(good).ok());
  good.end = good.begin;
  CHECK(check(good).ok());
  Proposal bad = good;
  bad.end = bad.begin - 1ns;
  CHECK(holds(refused(check(bad)), "ends before it begins"));
  bad = good;
  bad.count = -1;
  CHECK(holds(refused(check(bad)), "fewer than none"));
  for (const int confidence : {-1, 1001}) {
    bad = good;
    bad.confidence_permille = confidence;
    CHECK(holds(refused(check(bad)), "between 0 and 1000"));
  }
  bad = good;
  bad.begin = at(-farthest - 1ns);
  CHECK(holds(refused(check(bad)), "a hundred years"));
}

TEST_CASE("a plan asks for a real call-out and a sensible count") {
  PlannedFastener planned = sample_register().planned[0];
  CHECK(check(planned).ok());
  planned.count = 0;
  CHECK(check(planned).ok());
  planned.count = -1;
  CHECK(holds(refused(check(planned)), "asks for -1"));
  planned.count = most_fasteners + 1;
  CHECK(holds(refused(check(planned)), "from 1 to"));
  planned.count = 1;
  planned.callout = "MS20426AD3";
  CHECK(!refused(check(planned)).empty());
}
