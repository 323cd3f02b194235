// Totals and search over a journal of many years, beside what SQLite alone takes for the plain sums over the same
// table.
#include <sqlite3.h>

#include <algorithm>
#include <chrono>
#include <ctime>
#include <filesystem>
#include <functional>
#include <iostream>
#include <random>
#include <string>

#include "actions/tally.h"
#include "base/text.h"

using namespace jigtime;

namespace {

constexpr int session_count = 1000;
constexpr int spans_a_session = 100;
constexpr int repeats = 9;

/// Milliseconds, the middle ones of several runs.
struct Took {
  double processor;  ///< of all threads; other programs of the machine do not count
  double waited;     ///< until it was done, whatever else the machine did
};

double middle(std::vector<double> times) {
  std::sort(times.begin(), times.end());
  return times[times.size() / 2];
}

Took median_ms(const std::function<void()>& deed) {
  std::vector<double> processor;
  std::vector<double> waited;
  for (int i = 0; i < repeats; ++i) {
    const auto begin = std::chrono::steady_clock::now();
    const std::clock_t worked = std::clock();
    deed();
    processor.push_back(1000.0 * static_cast<double>(std::clock() - worked) / CLOCKS_PER_SEC);
    waited.push_back(std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - begin).count());
  }
  return {middle(std::move(processor)), middle(std::move(waited))};
}

[[noreturn]] void give_up(const Error& error) {
  std::cerr << error.message() << '\n';
  std::exit(1);
}

template <class T>
T must(Result<T> result) {
  if (!result) give_up(result.error());
  return *std::move(result);
}

void must(const Done& done) {
  if (!done) give_up(done.error());
}

/// Two people, twenty tasks in five assemblies, a camera that ran most of the day.
Done fill_session(store::Edit& edit, int number, journal::CameraId camera, std::mt19937& dice) {
  static const std::vector<std::string> words{"rivet",      "skin",  "deburr", "low head", "prime", "hinge", "smoked",
                                              "\u00e9crou", "again", "clamp",  "spar",     "rib",   "tank",  "edge"};
  journal::Session session;
  session.date = std::chrono::year_month_day{std::chrono::sys_days{std::chrono::year{2020} / 1 / 1} +
                                             std::chrono::days{2 * number}};
  const auto id = edit.add(session);
  if (!id) return id.error();
  journal::Clip clip;
  clip.session = *id;
  clip.camera = camera;
  journal::Part part;
  part.path = "/footage/" + std::to_string(number) + ".mp4";
  part.identity.size_bytes = static_cast<std::uint64_t>(number);
  clip.parts = {part};
  clip.length = std::chrono::hours{7};
  const auto clip_id = edit.add(clip);
  if (!clip_id) return clip_id.error();
  if (Done placed = edit.set_placement({*clip_id,
                                        journal::Basis::manual,
                                        {{ClipTime{}, ClipTime{clip.length}, SessionTime{}, 0, Length{1}}},
                                        {},
                                        {}});
      !placed) {
    return placed;
  }
  for (int i = 0; i < spans_a_session; ++i) {
    journal::Span span;
    span.session = *id;
    span.kind = i % 20 == 19 ? journal::SpanKind::pause : journal::SpanKind::work;
    span.begin = SessionTime{std::chrono::minutes{5 * i}};
    span.end = span.begin + std::chrono::minutes{4 + static_cast<int>(dice() % 4)};
    if (span.kind == journal::SpanKind::work) span.task = journal::TaskId{1 + static_cast<int>(dice() % 20)};
    span.people = {{1}};
    if (dice() % 3 == 0) span.people.push_back({2});
    for (int k = 0; k < 6; ++k) span.note += words[dice() % words.size()] + " ";
    span.note += std::to_string(dice() % 100000);
    if (const auto added = edit.add(span); !added) return added.error();
  }
  return {};
}

store::Store filled(const std::filesystem::path& path) {
  store::Store store = must(store::Store::create(path, {"Bench", "", "", "UTC", journal::Rounding::tenth_hour}));
  journal::CameraId camera;
  must(store.edit("register", [&](store::Edit& edit) -> Done {
    for (const std::string name : {"Mara", "Bo"}) must(edit.add(journal::Person{{}, name, journal::Role::builder}));
    for (int i = 0; i < 5; ++i) must(edit.add(journal::Assembly{{}, std::nullopt, "Assembly " + std::to_string(i)}));
    for (int i = 0; i < 20; ++i) {
      must(edit.add(journal::Task{{}, "Task " + std::to_string(i), journal::AssemblyId{1 + i % 5}, "", ""}));
    }
    camera = must(edit.add(journal::Camera{{}, "bench"}));
    return {};
  }));
  std::mt19937 dice{11};
  for (int number = 0; number < session_count; number += 50) {
    must(store.edit("sessions", [&](store::Edit& edit) -> Done {
      for (int i = number; i < number + 50; ++i) {
        if (Done done = fill_session(edit, i, camera, dice); !done) return done;
      }
      return {};
    }));
  }
  return store;
}

/// The plain sums, by task and person, that ignore every rule.
Took plain_sum_ms(const std::filesystem::path& path) {
  sqlite3* database = nullptr;
  if (sqlite3_open_v2(path.c_str(), &database, SQLITE_OPEN_READONLY, nullptr) != SQLITE_OK) std::exit(1);
  const Took ms = median_ms([&] {
    sqlite3_exec(database,
                 "SELECT task, person, sum(end_ns - begin_ns) FROM span JOIN span_person ON span_person.span = span.id "
                 "WHERE kind = 'work' GROUP BY task, person",
                 nullptr, nullptr, nullptr);
  });
  sqlite3_close(database);
  return ms;
}

std::string padded(const std::string& text, std::size_t width) {
  return std::string(width - std::min(text.size(), width), ' ') + text;
}

void print(const std::string& what, const Took& took, const Took& plain) {
  std::cout << what << std::string(42 - std::min<std::size_t>(what.size(), 40), ' ')
            << padded(to_decimal_text(took.processor, 1), 6) << " ms " << padded(to_decimal_text(took.waited, 1), 6)
            << " ms   " << to_decimal_text(took.processor / plain.processor, 2) << " x plain SQL\n";
}

}  // namespace

int main(int argc, char** argv) {
  const std::filesystem::path folder = argc > 1 ? argv[1] : std::filesystem::temp_directory_path();
  const std::filesystem::path path = folder / "ledger_bench.jigtime";
  std::filesystem::remove(path);
  const store::Store store = filled(path);
  std::cout << session_count << " sessions, " << session_count * spans_a_session
            << " spans; processor time and time waited, median of " << repeats << " runs\n";
  const Took plain = plain_sum_ms(path);
  print("plain SQL sum by task and person", plain, plain);
  print("  of it reading spans and footage", median_ms([&] { must(store.working_days()); }), plain);
  for (const std::string by : {"task", "assembly", "person", "session", "month"}) {
    print("hours by " + by, median_ms([&] {
            must(actions::tally_hours(store, {*actions::parse_by(by), {}, {}}));
          }),
          plain);
  }
  print("hours by task, journal just opened", median_ms([&] {
          const store::Store fresh = must(store::Store::open(path));
          must(actions::tally_hours(fresh, {actions::By::task, {}, {}}));
        }),
        plain);
  for (const std::string words : {"smoked", "hinge low rib", "ecrou 4711", "ski", "task 7 mara"}) {
    std::size_t hits = 0;
    const Took ms = median_ms([&] { hits = must(store.find(words)).size(); });
    print("find \"" + words + "\", " + std::to_string(hits) + " hits", ms, plain);
  }
  std::filesystem::remove(path);
  return 0;
}
