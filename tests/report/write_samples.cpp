// Writes the invented sessions and books in every format, to be looked at and to be read by other programs:
// report_samples FOLDER STILL.jpg
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>

#include "report/formats.h"
#include "report/sample_book.h"
#include "report/sample_sessions.h"
#include "report/timeline_document.h"

namespace {

using namespace jigtime;

std::vector<std::uint8_t> bytes_of(const char* path) {
  std::ifstream file{path, std::ios::binary};
  return {std::istreambuf_iterator<char>{file}, {}};
}

void write(const std::filesystem::path& path, std::string_view text) {
  std::filesystem::create_directories(path.parent_path());
  std::ofstream file{path, std::ios::binary};
  if (!(file << text)) {
    std::cerr << "cannot write " << path << "\n";
    std::exit(3);
  }
}

template <class T>
T must(Result<T> result) {
  if (result) return *std::move(result);
  std::cerr << result.error().message() << "\n";
  std::exit(3);
}

void write_session(const std::filesystem::path& folder, const report::Timeline& timeline) {
  write(folder / "timeline.html", report::to_html(timeline));
  write(folder / "timeline.pdf", must(report::timeline_pdf(timeline)));
  write(folder / "timeline.svg", must(report::timeline_svg(timeline)));
  write(folder / "hours.csv",
        report::hours_csv({timeline.record.session}, timeline.known, timeline.hours, timeline.build.rounding));
  write(folder / "spans.csv", report::spans_csv(timeline));
  write(folder / "fasteners.csv", report::fasteners_csv(timeline));
  write(folder / "session.json", report::session_json(timeline));
  write(folder / "session.schema.json", report::session_schema());
  write(folder / "timeline.otio", report::to_otio(timeline));
  write(folder / "session.ics", report::to_ics(timeline));
  for (const report::FileChapters& file : report::chapters_of_files(timeline)) {
    write(folder / "chapters" / (file.safe_name + ".vtt"), report::to_vtt(file));
  }
  if (const auto filmed = report::filmed_range(timeline)) {
    write(folder / "film.ffmetadata",
          report::to_ffmetadata(timeline.build.name, report::film_chapters(timeline, *filmed, 1.0)));
  }
}

void write_book(const std::filesystem::path& path, report::Book book, report::BookOrder order) {
  book.order = order;
  std::filesystem::create_directories(path.parent_path());
  std::ofstream file{path, std::ios::binary};
  const report::Sink sink = [&](std::string_view bytes) -> Done {
    file << bytes;
    return {};
  };
  const report::Document document = report::book_document(book);
  const Done written =
      path.extension() == ".pdf" ? report::write_pdf(document, sink) : report::write_html(document, sink);
  if (written) return;
  std::cerr << written.error().message() << "\n";
  std::exit(3);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) {
    std::cerr << "usage: report_samples FOLDER STILL.jpg\n";
    return 2;
  }
  const std::filesystem::path folder = argv[1];
  const std::vector<std::uint8_t> still = bytes_of(argv[2]);
  report::Timeline elevator = test::elevator_session();
  for (std::size_t i = 0; i + 1 < elevator.record.marks.size(); ++i)
    elevator.stills[elevator.record.marks[i].id] = still;
  write_session(folder / "elevator", elevator);
  write_session(folder / "empty", test::empty_session());
  write_session(folder / "long", test::long_day());
  write_session(folder / "crowded", test::crowded_day());
  write_session(folder / "hostile", test::hostile_session());
  write_session(folder / "scripts", test::scripts_session());
  write_session(folder / "golden", test::golden_session());
  write_book(folder / "golden" / "book.html", test::golden_book(), report::BookOrder::by_date);
  for (const char* name : {"book.pdf", "book.html"}) {
    write_book(folder / "by_date" / name, test::sample_book(still), report::BookOrder::by_date);
    write_book(folder / "by_assembly" / name, test::sample_book(still), report::BookOrder::by_assembly);
    write_book(folder / "no_sessions" / name, test::empty_book(), report::BookOrder::by_date);
  }
  return 0;
}
