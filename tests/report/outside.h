// Runs a program from outside on a text, for checks that do not trust our own reading.
#pragma once

#include <cstdio>
#include <fstream>
#include <string>

#include "support/temp_folder.h"

namespace jigtime::test {

struct Outcome {
  int status = -1;
  std::string output;  ///< stdout and stderr
};

/// `command` is run by the shell with the path of a file holding `text` as its last argument.
inline Outcome run_on(const std::string& command, const std::string& text) {
  const TempFolder folder;
  const std::string path = (folder / "text").string();
  std::ofstream{path, std::ios::binary} << text;
  Outcome outcome;
  FILE* pipe = popen((command + " " + path + " 2>&1").c_str(), "r");
  if (pipe == nullptr) return outcome;
  char buffer[4096];
  for (std::size_t n = 0; (n = fread(buffer, 1, sizeof buffer, pipe)) > 0;) outcome.output.append(buffer, n);
  outcome.status = pclose(pipe);
  return outcome;
}

}  // namespace jigtime::test
