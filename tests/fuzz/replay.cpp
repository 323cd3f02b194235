// Feeds every file of a corpus folder to the target, for builds without a fuzzer.
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

int main(int argc, char** argv) {
  int files = 0;
  for (int i = 1; i < argc; ++i) {
    for (const auto& entry : std::filesystem::recursive_directory_iterator{argv[i]}) {
      if (!entry.is_regular_file()) continue;
      std::ifstream file{entry.path(), std::ios::binary};
      const std::vector<char> bytes{std::istreambuf_iterator<char>{file}, std::istreambuf_iterator<char>{}};
      const std::vector<std::uint8_t> data{bytes.begin(), bytes.end()};
      LLVMFuzzerTestOneInput(data.data(), data.size());
      ++files;
    }
  }
  std::cout << files << " inputs\n";
  return files > 0 ? 0 : 1;
}
