#include "demo/geometry.h"

#include <cmath>
#include <numbers>

namespace jigtime::demo {
namespace {

constexpr double nearest = 0.15;  // metres in front of the camera where shapes are cut off

Point unit(Point a) { return a * (1 / std::sqrt(dot(a, a))); }

}  // namespace

double dot(Point a, Point b) { return a.x * b.x + a.y * b.y + a.z * b.z; }

Point cross(Point a, Point b) { return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x}; }

double distance(Point a, Point b) { return std::sqrt(dot(a - b, a - b)); }

Point between(Point a, Point b, double share) { return a + (b - a) * share; }

Lens::Lens(Point at, Point looks_at, double field_degrees, int width, int height)
    : at_{at},
      forward_{unit(looks_at - at)},
      right_{unit(cross(forward_, {0, 0, 1}))},
      up_{cross(right_, forward_)},
      focal_{width / 2.0 / std::tan(field_degrees / 2 * std::numbers::pi / 180)},
      centre_{width / 2.0, height / 2.0} {}

Point Lens::towards_camera(Point point) const { return unit(at_ - point); }

Dot Lens::project(Point point) const {
  const double k = scale(point);
  return {centre_.x + dot(point - at_, right_) * k, centre_.y - dot(point - at_, up_) * k};
}

std::vector<Dot> Lens::project(std::span<const Point> shape) const {
  std::vector<Dot> corners;
  for (std::size_t i = 0; i < shape.size(); ++i) {
    const Point here = shape[i];
    const Point next = shape[(i + 1) % shape.size()];
    const double depth_here = depth(here);
    const double depth_next = depth(next);
    if (depth_here >= nearest) corners.push_back(project(here));
    if ((depth_here >= nearest) != (depth_next >= nearest)) {
      corners.push_back(project(between(here, next, (nearest - depth_here) / (depth_next - depth_here))));
    }
  }
  return corners;
}

}  // namespace jigtime::demo
