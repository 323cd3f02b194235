// The benchmark's printed tables.
#pragma once

#include <cstdio>
#include <string>

#include "bench/scoring.h"

namespace jigtime::bench {

void print_head(std::FILE* to);
void print_row(std::FILE* to, const std::string& name, const Score& score);
/// What has no place in the rows: clocks, strangers, cost.
void print_rest(std::FILE* to, const Score& all);

/// Value below which `part` of the values lie (nearest rank); 0 of none.
double quantile(std::vector<double> values, double part);

}  // namespace jigtime::bench
