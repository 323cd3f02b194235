// The program: `jigtime` and `jigtime JOURNAL.jigtime` open the window, everything else is the command line's.
#include <csignal>
#include <exception>
#include <iostream>
#include <string_view>

#include "app/app.h"
#include "cli/run.h"

#ifdef __GLIBC__
#include <malloc.h>
#endif

namespace {

constexpr int failed = 3;

/// Each packet of a file is freed next to the top of the heap, and with every one glibc would put all its fast bins
/// back together: 7 % of what lining up hours of footage costs.
void spare_the_heap() {
#ifdef __GLIBC__
  mallopt(M_MXFAST, 0);
#endif
}

/// A lone word that ends as journals do is no command.
bool is_journal(std::string_view word) { return word.size() > 8 && word.ends_with(".jigtime") && word.front() != '-'; }

int run(int argc, char** argv) {
  if (argc < 2) return jigtime::app::run_window({});
  if (argc == 2 && is_journal(argv[1])) return jigtime::app::run_window(argv[1]);
  return jigtime::cli::run(argc, argv);
}

}  // namespace

int main(int argc, char** argv) {
  spare_the_heap();
  // Where a file may grow no further (a quota), the write fails and is told; the program is not killed in the middle.
  std::signal(SIGXFSZ, SIG_IGN);
  try {
    return run(argc, argv);
  } catch (const std::exception& failure) {
    std::cerr << "jigtime: something went wrong inside (" << failure.what()
              << "). The journal holds all that was done before. Please report this.\n";
    return failed;
  }
}
