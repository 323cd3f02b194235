// What one camera sees at any moment.
#pragma once

#include <memory>

#include "base/picture.h"
#include "demo/scenario.h"
#include "demo/story.h"

namespace jigtime::demo {

class View {
 public:
  /// Both are used until the view's end.
  View(const Scenario& scenario, const CameraPlan& plan, const Story& story);
  View(View&&) noexcept;
  View& operator=(View&&) noexcept;
  ~View();

  /// The picture of that instant, on loan until the next call. Calls go forward in time.
  const Picture& at(Seconds t);

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace jigtime::demo
