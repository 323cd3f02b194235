#include "app/view/composer.h"

#include <doctest/doctest.h>

using namespace jigtime;
using namespace jigtime::app;
using namespace std::chrono_literals;

namespace {

SessionTime at(Length t) { return SessionTime{t}; }

Composer ready() {
  Composer composer;
  composer.choose_task("Rivet the skin");
  composer.toggle_person("Tova");
  return composer;
}

}  // namespace

TEST_CASE("a span is begun and ended with what was said before and in between") {
  Composer composer = ready();
  REQUIRE(composer.begin(at(10s), false));
  composer.add_fasteners("MS20426AD3-4=72");
  composer.set_note("two smoked");
  const auto span = composer.end(at(60s));
  REQUIRE(span);
  CHECK(span->from == at(10s));
  CHECK(span->to == at(60s));
  CHECK(span->task == "Rivet the skin");
  CHECK(span->people == std::vector<std::string>{"Tova"});
  CHECK(span->fasteners == std::vector<std::string>{"MS20426AD3-4=72"});
  CHECK(span->note == "two smoked");
  CHECK_FALSE(composer.running());
}

TEST_CASE("task and people stay for the next span, fasteners and note do not") {
  Composer composer = ready();
  REQUIRE(composer.begin(at(10s), false));
  composer.add_fasteners("MS20426AD3-4=72");
  composer.set_note("two smoked");
  REQUIRE(composer.end(at(60s)));
  REQUIRE(composer.begin(at(70s), false));
  const auto next = composer.end(at(80s));
  REQUIRE(next);
  CHECK(next->task == "Rivet the skin");
  CHECK(next->fasteners.empty());
  CHECK(next->note.empty());
}

TEST_CASE("beginning again ends the span that runs") {
  Composer composer = ready();
  REQUIRE(composer.begin(at(10s), false));
  const auto ended = composer.begin(at(30s), true);
  REQUIRE(ended);
  REQUIRE(*ended);
  CHECK((*ended)->to == at(30s));
  CHECK(composer.pause());
}

TEST_CASE("a break needs no task and takes no fasteners") {
  Composer composer;
  composer.add_fasteners("MS20426AD3-4=72");
  REQUIRE(composer.begin(at(10s), true));
  const auto span = composer.end(at(20s));
  REQUIRE(span);
  CHECK(span->pause);
  CHECK(span->task.empty());
  CHECK(span->fasteners.empty());
  CHECK(composer.fasteners().size() == 1);
}

TEST_CASE("a span without a task goes on until its task is said") {
  Composer composer;
  REQUIRE(composer.begin(at(10s), false));
  const auto refused = composer.end(at(20s));
  REQUIRE_FALSE(refused);
  CHECK(refused.error().code() == Code::invalid);
  CHECK(composer.running());
  composer.choose_task("Deburr");
  CHECK(composer.end(at(20s)));
}

TEST_CASE("a span cannot end where it began or before, and then still runs") {
  Composer composer = ready();
  REQUIRE(composer.begin(at(10s), false));
  CHECK_FALSE(composer.end(at(10s)));
  CHECK_FALSE(composer.end(at(4s)));
  CHECK_FALSE(composer.begin(at(4s), false));
  CHECK(composer.begun() == at(10s));
}

TEST_CASE("ending without a span, and dropping without one, say so") {
  Composer composer = ready();
  CHECK(composer.end(at(1s)).error().message().find("No span") != std::string::npos);
  CHECK_FALSE(composer.drop());
  REQUIRE(composer.begin(at(1s), false));
  CHECK(composer.drop());
  CHECK_FALSE(composer.running());
}

TEST_CASE("what is being tagged is said in words at every moment") {
  Composer composer;
  CHECK(composer.in_words(at(0s)).find("no task yet") != std::string::npos);
  composer = ready();
  composer.add_fasteners("MS20426AD3-4=72");
  REQUIRE(composer.begin(at(12min), false));
  const std::string words = composer.in_words(at(13min));
  for (const char* part : {"0:12:00", "1 min", "Rivet the skin", "Tova", "MS20426AD3-4=72"})
    CHECK(words.find(part) != std::string::npos);
}

TEST_CASE("a person is named once, and not at all after the second press") {
  Composer composer = ready();
  CHECK(composer.names("Tova"));
  composer.toggle_person("Tova");
  CHECK_FALSE(composer.names("Tova"));
}

TEST_CASE("the number keys offer the latest tasks first, none twice, none that was put away") {
  journal::Register known;
  known.tasks = {{journal::TaskId{1}, "Drill", {}, "", ""},
                 {journal::TaskId{2}, "Rivet", {}, "", ""},
                 {journal::TaskId{3}, "Old", {}, "", ""}};
  known.tasks[2].shelf.archived = true;
  journal::SessionRecord record;
  for (const std::int64_t task : {2, 1, 2, 3}) {
    journal::Span span;
    span.id = journal::SpanId{std::ssize(record.spans) + 1};
    span.task = journal::TaskId{task};
    record.spans.push_back(span);
  }
  CHECK(recent_tasks(known, record) == std::vector<std::string>{"Rivet", "Drill"});
  CHECK(recent_tasks({}, {}).empty());
}
