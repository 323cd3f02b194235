// Places in the workshop, and where they fall in a camera's picture.
#pragma once

#include <span>
#include <vector>

namespace jigtime::demo {

/// Metres. x along the bench to the east, y across it to the north, z up from the floor; the bench stands over 0, 0.
struct Point {
  double x = 0;
  double y = 0;
  double z = 0;

  friend Point operator+(Point a, Point b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
  friend Point operator-(Point a, Point b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
  friend Point operator*(Point a, double k) { return {a.x * k, a.y * k, a.z * k}; }
};

double dot(Point a, Point b);
Point cross(Point a, Point b);
double distance(Point a, Point b);
/// The point that lies `share` of the way from a to b.
Point between(Point a, Point b, double share);

/// Pixels from the top left corner of a picture.
struct Dot {
  double x = 0;
  double y = 0;
};

/// A pin-hole camera.
class Lens {
 public:
  /// `field_degrees` is the angle that the picture's width covers.
  Lens(Point at, Point looks_at, double field_degrees, int width, int height);

  /// Precondition: the point lies in front of the camera (depth above 0).
  Dot project(Point point) const;
  double depth(Point point) const { return dot(point - at_, forward_); }
  Point right() const { return right_; }
  /// Direction from the point to the camera, of length 1.
  Point towards_camera(Point point) const;
  /// Pixels that one metre covers at that point.
  double scale(Point point) const { return focal_ / depth(point); }
  /// The corners of a flat shape as they fall in the picture, cut off just in front of the camera; may be empty.
  std::vector<Dot> project(std::span<const Point> shape) const;

 private:
  Point at_;
  Point forward_;
  Point right_;
  Point up_;
  double focal_;
  Dot centre_;
};

}  // namespace jigtime::demo
