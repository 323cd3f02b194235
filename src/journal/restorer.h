// What a sealed text says, put back in place of what holds now. Private to the seal.
// Must never know: which form the text has.
// Begin reading at: Restorer.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "journal/values.h"

namespace jigtime::journal {

/// The values of a text by their keys.
class Facts {
 public:
  explicit Facts(std::string_view text);
  bool has(const std::string& key) const { return values_.contains(key); }
  std::string at(const std::string& key) const;  ///< empty where there is none
  std::int64_t id_at(const std::string& key) const;

 private:
  std::map<std::string, std::string> values_;
};

/// Says of each value that it puts back how it was sealed and what it is now. `facts` and `renamed` must outlive it.
/// A key stands before a row's own: "person 2 ".
class Restorer {
 public:
  Restorer(const Facts& facts, std::vector<std::string>& renamed) : facts_{facts}, renamed_{renamed} {}

  void text(const std::string& key, const std::string& what, std::string& value);
  void build(Build& build);
  void person(const std::string& key, Person& person);
  void camera(const std::string& key, Camera& camera);
  /// An assembly's path is sealed as text: one assembly with the whole path as its name comes to stand in `known`.
  void task(const std::string& key, Task& task, Register& known);

 private:
  void rounding(Build& build);
  void assembly(const std::string& key, Task& task, Register& known);

  const Facts& facts_;
  std::vector<std::string>& renamed_;
};

}  // namespace jigtime::journal
