// Draws one picture of the film: the cameras side by side, and what is being done in words.
// Must never know: files, time's passing, the journal.
// Begin reading at: Page::draw.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "base/picture.h"
#include "film/camera_reader.h"
#include "film/layout.h"

namespace jigtime::film {

/// What stands in the place for words; empty lines are left out.
struct Words {
  std::string clock;  ///< session time and speed
  std::string doing;  ///< task
  std::string people;
  std::string mark;      ///< words of a mark that was just passed
  double part_done = 0;  ///< of the film, 0 to 1
};

/// Colours are the Okabe-Ito set; every camera has its name beside its colour, and every state its word.
class Page {
 public:
  Page(Layout layout, std::vector<std::string> camera_names);
  Page(Page&&) noexcept;
  Page& operator=(Page&&) noexcept;
  ~Page();

  /// One `seen` a camera. A picture is fitted into its panel without changing its shape. On loan until the next call.
  const Picture& draw(const std::vector<Seen>& seen, const Words& words);

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace jigtime::film
