// Runs a few lines of Debian's Python (numpy, SciPy) on samples, as the reference from outside.
#pragma once

#include <cstdlib>
#include <fstream>
#include <span>
#include <stdexcept>
#include <string>
#include <vector>

#include "support/temp_folder.h"

namespace jigtime::test {

class PythonCheck {
 public:
  /// The script finds this as numpy float32 array of that name.
  void give(const std::string& name, std::span<const float> samples) {
    std::ofstream out{folder_ / (name + ".f32"), std::ios::binary};
    out.write(reinterpret_cast<const char*>(samples.data()), static_cast<std::streamsize>(samples.size_bytes()));
    names_.push_back(name);
  }

  /// Runs the script and returns what it left in `result` (anything numpy can make a flat float64 array of).
  std::vector<double> run(const std::string& script) {
    std::ofstream out{folder_ / "check.py"};
    out << "import numpy as np\n";
    for (const std::string& name : names_) out << name << " = np.fromfile('" << name << ".f32', dtype=np.float32)\n";
    out << script << "\nnp.asarray(result, dtype=np.float64).ravel().tofile('result.f64')\n";
    out.close();
    const std::string command = "cd '" + folder_.path().string() + "' && /usr/bin/python3 check.py";
    if (std::system(command.c_str()) != 0) throw std::runtime_error{"the Python check failed"};
    std::ifstream in{folder_ / "result.f64", std::ios::binary};
    std::vector<double> result;
    for (double value = 0; in.read(reinterpret_cast<char*>(&value), sizeof value);) result.push_back(value);
    return result;
  }

 private:
  TempFolder folder_;
  std::vector<std::string> names_;
};

}  // namespace jigtime::test
