// The log book of 1,000 sessions, printed from a journal file: seconds and memory, beside a plain reference that sets
// the same text with the same library, line by line on pages, with neither tables nor links: bench_book [FOLDER
// [SESSIONS]]
#include <cairo-pdf.h>
#include <pango/pangocairo.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iostream>
#include <sstream>
#include <string>

#include "actions/book.h"
#include "base/text.h"
#include "journal/seal.h"
#include "store/store.h"

using namespace jigtime;

namespace {

constexpr int spans_a_session = 10;

struct Cost {
  double processor_s = 0;
  double wall_s = 0;
  double peak_mb = 0;
};

/// In a process of its own, so that the memory is its own too.
Cost cost_of(const std::function<void()>& deed) {
  timespec begin{};
  clock_gettime(CLOCK_MONOTONIC, &begin);
  const pid_t child = fork();
  if (child == 0) {
    deed();
    std::_Exit(0);
  }
  int status = 0;
  rusage used{};
  if (child < 0 || wait4(child, &status, 0, &used) != child || status != 0) {
    std::cerr << "a measured process failed\n";
    std::exit(1);
  }
  timespec end{};
  clock_gettime(CLOCK_MONOTONIC, &end);
  const auto seconds = [](const timeval& time) {
    return static_cast<double>(time.tv_sec) + static_cast<double>(time.tv_usec) / 1e6;
  };
  return {seconds(used.ru_utime) + seconds(used.ru_stime),
          static_cast<double>(end.tv_sec - begin.tv_sec) + static_cast<double>(end.tv_nsec - begin.tv_nsec) / 1e9,
          static_cast<double>(used.ru_maxrss) / 1024};
}

template <class T>
T must(Result<T> result) {
  if (result) return *std::move(result);
  std::cerr << result.error().message() << '\n';
  std::_Exit(1);
}

void must(const Done& done) {
  if (done) return;
  std::cerr << done.error().message() << '\n';
  std::_Exit(1);
}

journal::Span span_of(journal::SessionId session, int number, int i) {
  journal::Span span;
  span.session = session;
  span.begin = SessionTime{std::chrono::minutes{15 * i}};
  span.end = span.begin + std::chrono::minutes{14};
  span.task = journal::TaskId{1 + (number + i) % 20};
  span.people = {{1}};
  if (i % 3 == 0) span.people.push_back({2});
  if (i % 2 == 0) span.fasteners = {{"MS20426AD3-3.5", journal::Method::driven, 12 + i, i % 3}};
  span.note =
      "Row " + std::to_string(i) + " of skin " + std::to_string(number) + ": flush, heads checked with the gauge.";
  return span;
}

/// Ten spans, two marks with a kept still each, a clip that lies by hand.
void fill_session(store::Edit& edit, int number, const std::string& still) {
  journal::Session session;
  session.date = std::chrono::year_month_day{std::chrono::sys_days{std::chrono::year{2020} / 1 / 1} +
                                             std::chrono::days{2 * number}};
  session.zero = WallTime{std::chrono::sys_days{session.date} + std::chrono::hours{8}};
  const journal::SessionId id = must(edit.add(session));
  journal::Clip clip;
  clip.session = id;
  clip.camera = {1};
  journal::Part part;
  part.path = "/footage/" + std::to_string(number) + ".mp4";
  part.identity.size_bytes = static_cast<std::uint64_t>(number);
  clip.parts = {part};
  clip.length = std::chrono::hours{3};
  const journal::ClipId clip_id = must(edit.add(clip));
  must(edit.set_placement(
      {clip_id, journal::Basis::manual, {{ClipTime{}, ClipTime{clip.length}, SessionTime{}, 0, Length{1}}}, {}, {}}));
  for (int i = 0; i < spans_a_session; ++i) must(edit.add(span_of(id, number, i)));
  for (int i = 0; i < 2; ++i) {
    const SessionTime at{std::chrono::minutes{20 + 60 * i}};
    const journal::MarkId mark = must(edit.add(journal::Mark{{}, id, at, "Shop head of the first rivet."}));
    // A picture of its own for each mark, as JPEG allows: a comment behind the end.
    const std::string bytes = still + std::to_string(number * 2 + i);
    must(edit.add(journal::Still{{}, id, at, {1}, clip_id, {}, mark, store::sha256_hex(bytes)}, bytes));
  }
}

void fill(const std::filesystem::path& path, int sessions, const std::string& still) {
  store::Store store =
      must(store::Store::create(path, {"Bench", "XX-BEN", "Shed", "UTC", journal::Rounding::tenth_hour}));
  must(store.edit("register", [&](store::Edit& edit) -> Done {
    for (const std::string name : {"Mara", "Bo"}) must(edit.add(journal::Person{{}, name, journal::Role::builder}));
    for (int i = 0; i < 5; ++i) must(edit.add(journal::Assembly{{}, std::nullopt, "Assembly " + std::to_string(i)}));
    for (int i = 0; i < 20; ++i)
      must(edit.add(journal::Task{{}, "Task " + std::to_string(i), journal::AssemblyId{1 + i % 5}, "7", "3"}));
    must(edit.add(journal::Camera{{}, "bench"}));
    return {};
  }));
  for (int number = 0; number < sessions; number += 50) {
    must(store.edit("sessions", [&](store::Edit& edit) -> Done {
      for (int i = number; i < std::min(number + 50, sessions); ++i) fill_session(edit, i, still);
      return {};
    }));
  }
}

/// The book's text, as pdftotext reads it, a line after the other on A4.
void set_plainly(const std::filesystem::path& text, const std::filesystem::path& pdf) {
  cairo_surface_t* surface = cairo_pdf_surface_create(pdf.c_str(), 595, 842);
  cairo_t* cairo = cairo_create(surface);
  PangoLayout* layout = pango_cairo_create_layout(cairo);
  PangoFontDescription* font = pango_font_description_from_string("DejaVu Sans 6");
  pango_layout_set_font_description(layout, font);
  std::ifstream file{text};
  double y = 40;
  for (std::string line; std::getline(file, line);) {
    pango_layout_set_text(layout, line.data(), static_cast<int>(line.size()));
    cairo_move_to(cairo, 40, y);
    pango_cairo_show_layout(cairo, layout);
    y += 11;
    if (y < 800) continue;
    cairo_show_page(cairo);
    y = 40;
  }
  pango_font_description_free(font);
  g_object_unref(layout);
  cairo_destroy(cairo);
  cairo_surface_finish(surface);
  cairo_surface_destroy(surface);
}

void print(const std::string& what, const Cost& cost) {
  std::cout << what << std::string(44 - std::min<std::size_t>(what.size(), 43), ' ')
            << to_decimal_text(cost.processor_s, 2) << " s processor   " << to_decimal_text(cost.wall_s, 2) << " s   "
            << to_decimal_text(cost.peak_mb, 0) << " MB peak" << std::endl;
}

}  // namespace

int main(int argc, char** argv) {
  const std::filesystem::path folder = argc > 1 ? argv[1] : std::filesystem::temp_directory_path();
  const int sessions = argc > 2 ? std::atoi(argv[2]) : 1000;
  const std::filesystem::path journal = folder / "book_bench.jigtime";
  const std::filesystem::path jpeg = folder / "book_bench.jpg";
  for (const char* ending : {".jigtime", ".jigtime-wal", ".jigtime-shm", ".pdf", ".html"}) {
    std::filesystem::remove(folder / (std::string{"book_bench"} + ending));
  }
  if (std::system(("ffmpeg -v error -y -f lavfi -i testsrc2=size=640x360 -frames:v 1 " + jpeg.string()).c_str()) != 0)
    return 1;
  std::ifstream picture{jpeg, std::ios::binary};
  std::ostringstream bytes;
  bytes << picture.rdbuf();
  const std::string still = bytes.str();
  std::cout << sessions << " sessions of " << spans_a_session << " spans and two stills of " << still.size() / 1024
            << " KiB\n";
  cost_of([&] { fill(journal, sessions, still); });
  const auto made = [&](const char* name, actions::PrintOrder order) {
    return cost_of([&] {
      const store::Store store = must(store::Store::open(journal));
      must(actions::write_book(store, {folder / name, {}, {}, order}, WallTime{std::chrono::seconds{1'773'500'000}},
                               {}));
    });
  };
  const std::filesystem::path pdf = folder / "book_bench.pdf";
  print("book as PDF, by date", made("book_bench.pdf", actions::PrintOrder::by_date));
  const std::filesystem::path text = folder / "book_bench.txt";
  if (std::system(("pdftotext -layout " + pdf.string() + " " + text.string()).c_str()) != 0) return 1;
  print("the same text, line by line, same library",
        cost_of([&] { set_plainly(text, folder / "book_bench_plain.pdf"); }));
  print("book as PDF, by assembly", made("book_bench.pdf", actions::PrintOrder::by_assembly));
  print("book as HTML, by date", made("book_bench.html", actions::PrintOrder::by_date));
  std::cout << "PDF of " << std::filesystem::file_size(pdf) / 1'000'000 << " MB\n";
  for (const auto& entry : std::filesystem::directory_iterator{folder}) {
    if (entry.path().filename().string().starts_with("book_bench")) std::filesystem::remove(entry.path());
  }
  return 0;
}
