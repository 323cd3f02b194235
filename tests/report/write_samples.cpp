// Writes the invented sessions as pages, to be looked at: report_samples FOLDER [STILL.jpg]
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>

#include "report/sample_sessions.h"

namespace {

std::vector<std::uint8_t> bytes_of(const char* path) {
  std::ifstream file{path, std::ios::binary};
  return {std::istreambuf_iterator<char>{file}, {}};
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) {
    std::cerr << "usage: report_samples FOLDER [STILL.jpg]\n";
    return 2;
  }
  const std::filesystem::path folder = argv[1];
  std::filesystem::create_directories(folder);
  jigtime::report::Timeline elevator = jigtime::test::elevator_session();
  for (std::size_t i = 0; argc > 2 && i + 1 < elevator.record.marks.size(); ++i) {
    elevator.stills[elevator.record.marks[i].id] = bytes_of(argv[2]);
  }
  const std::pair<const char*, jigtime::report::Timeline> pages[] = {
      {"elevator.html", elevator},
      {"empty.html", jigtime::test::empty_session()},
      {"long.html", jigtime::test::long_day()},
      {"hostile.html", jigtime::test::hostile_session()}};
  for (const auto& [name, timeline] : pages) {
    std::ofstream file{folder / name, std::ios::binary};
    if (!(file << jigtime::report::to_html(timeline))) {
      std::cerr << "cannot write " << (folder / name) << "\n";
      return 3;
    }
  }
  return 0;
}
