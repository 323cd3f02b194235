// A canvas with a camera in front of it: draws shapes of the workshop where the camera sees them.
#pragma once

#include <initializer_list>

#include "demo/canvas.h"
#include "demo/scenario.h"

namespace jigtime::demo {

class Stage {
 public:
  explicit Stage(const CameraPlan& plan)
      : lens{plan.at, plan.looks_at, plan.field_degrees, plan.width, plan.height},
        canvas{plan.width, plan.height},
        tint{plan.tint} {}

  Colour seen(Colour colour) const;
  /// A flat shape; shapes behind the camera are cut off.
  void face(std::initializer_list<Point> shape, Colour colour);
  /// The same, shading from its first to its third corner.
  void face(std::initializer_list<Point> shape, Colour first, Colour last);
  /// A box between two opposite corners, sides first and top last; all sides as seen from above it.
  void box(Point low, Point high, Colour colour);
  /// A line of a thickness in metres at its far end. Precondition: all of it in front of the camera.
  void rod(std::initializer_list<Point> line, double thickness, Colour colour);
  void ball(Point centre, double radius, Colour colour);
  double pixels(Point at, double metres) const { return lens.scale(at) * metres; }

  Lens lens;
  Canvas canvas;
  Tint tint;
};

}  // namespace jigtime::demo
