#include "app/view/layout.h"

#include <algorithm>
#include <cmath>

namespace jigtime::app {
namespace {

/// Marks are flags of this many lines' width.
constexpr double flag_lines = 0.9;
/// Boxes that lie wholly within this much of the one before are not drawn.
constexpr double least_px = 1.0;

double line_height(const StripRow& row, const StripMetrics& metrics) {
  return row.kind == RowKind::camera ? metrics.camera_line : metrics.line;
}

class RowFiller {
 public:
  RowFiller(const StripRow& row, std::size_t index, RowPlace place, const StripWindow& window,
            const StripMetrics& metrics)
      : row_{row}, index_{index}, place_{place}, window_{window}, metrics_{metrics} {
    last_x_.assign(static_cast<std::size_t>(std::max(row.sub_rows, 1)), -1e9);
  }

  void fill(std::vector<StripBox>& boxes) {
    const SessionTime earliest = window_.from - row_.longest - flag();
    const auto first = std::lower_bound(row_.items.begin(), row_.items.end(), earliest,
                                        [](const StripItem& item, SessionTime t) { return item.range.begin() < t; });
    for (auto item = first; item != row_.items.end() && item->range.begin() < window_.to(); ++item) {
      if (item->range.end() + reach(*item) > window_.from)
        add(static_cast<std::size_t>(item - row_.items.begin()), boxes);
    }
  }

 private:
  Length flag() const {
    return from_seconds(to_seconds(window_.length) * flag_lines * metrics_.line / window_.width_px);
  }
  Length reach(const StripItem& item) const { return item.kind == ItemKind::mark ? flag() : 2 * item.doubt; }

  void add(std::size_t index, std::vector<StripBox>& boxes) {
    const StripItem& item = row_.items[index];
    StripBox box{index_, index, window_.x_of(item.range.begin()), window_.x_of(item.range.end()), place_.y0, place_.y1};
    if (item.kind == ItemKind::mark) box.x1 = box.x0 + flag_lines * metrics_.line;
    box.x0 = std::max(box.x0, -1000.0);
    box.x1 = std::min(std::max(box.x1, box.x0 + least_px), window_.width_px + 1000.0);
    const auto sub = static_cast<std::size_t>(std::clamp(item.sub_row, 0, std::max(row_.sub_rows - 1, 0)));
    if (box.x1 < last_x_[sub] + least_px && box.x1 - box.x0 <= 2 * least_px) return;
    last_x_[sub] = box.x1;
    box.y0 = place_.y0 + static_cast<double>(sub) * line_height(row_, metrics_);
    box.y1 = box.y0 + line_height(row_, metrics_) - 1;
    boxes.push_back(box);
  }

  const StripRow& row_;
  std::size_t index_;
  RowPlace place_;
  const StripWindow& window_;
  const StripMetrics& metrics_;
  std::vector<double> last_x_;
};

Grip grip_at(const StripItem& item, const StripBox& box, const StripMetrics& metrics, double x) {
  if (item.kind != ItemKind::span) return Grip::body;
  const double reach = std::min(metrics.edge, (box.x1 - box.x0) / 3);
  if (std::abs(x - box.x0) <= reach) return Grip::begin;
  if (std::abs(x - box.x1) <= reach) return Grip::end;
  return Grip::body;
}

}  // namespace

double height_of(const StripRows& rows, const StripMetrics& metrics) {
  double height = metrics.header;
  for (const StripRow& row : rows.rows) height += std::max(row.sub_rows, 1) * line_height(row, metrics) + metrics.gap;
  return height;
}

StripMetrics fitted(const StripRows& rows, StripMetrics metrics, double room) {
  int camera_lines = 0;
  for (const StripRow& row : rows.rows) camera_lines += row.kind == RowKind::camera ? std::max(row.sub_rows, 1) : 0;
  const double too_high = height_of(rows, metrics) - room;
  if (too_high <= 0 || camera_lines == 0) return metrics;
  metrics.camera_line = std::max(metrics.camera_line - too_high / camera_lines, metrics.line);
  return metrics;
}

void lay_out(const StripRows& rows, const StripWindow& window, const StripMetrics& metrics, StripLayout& layout) {
  layout.rows.clear();
  layout.boxes.clear();
  double y = metrics.header;
  for (std::size_t i = 0; i < rows.rows.size(); ++i) {
    const StripRow& row = rows.rows[i];
    const RowPlace place{y, y + std::max(row.sub_rows, 1) * line_height(row, metrics)};
    layout.rows.push_back(place);
    RowFiller{row, i, place, window, metrics}.fill(layout.boxes);
    y = place.y1 + metrics.gap;
  }
  layout.height = y;
}

std::optional<Under> under(const StripRows& rows, const StripLayout& layout, const StripMetrics& metrics, double x,
                           double y) {
  constexpr double finger = 2;  // a hair-thin box can still be met
  for (auto box = layout.boxes.rbegin(); box != layout.boxes.rend(); ++box) {
    if (y < box->y0 || y > box->y1 || x < box->x0 - finger || x > box->x1 + finger) continue;
    const StripItem& item = rows.rows[box->row].items[box->item];
    return Under{box->row, box->item, grip_at(item, *box, metrics, x)};
  }
  return std::nullopt;
}

}  // namespace jigtime::app
