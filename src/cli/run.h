// The command line: argv in, text or JSON out. Every deed is one function in actions.
#pragma once

namespace jigtime::cli {

/// Parses and runs one command; returns its exit status. May throw: the program's main has the last catch.
int run(int argc, char** argv);

}  // namespace jigtime::cli
