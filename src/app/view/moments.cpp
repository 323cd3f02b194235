#include "app/view/moments.h"

#include <algorithm>

namespace jigtime::app {
namespace {

/// Jumping on from where one has just jumped to must not stay there.
constexpr Length a_moment = std::chrono::milliseconds{5};

bool is_wanted(const StripItem& item, JumpTo what) {
  switch (what) {
    case JumpTo::span: return item.kind == ItemKind::span;
    case JumpTo::mark: return item.kind == ItemKind::mark;
    case JumpTo::riveting: return item.look == ItemLook::riveting;
    case JumpTo::dropout: return item.kind == ItemKind::dropout;
  }
  return false;
}

CameraNow camera_at(const StripRow& row, SessionTime t) {
  CameraNow now{row.camera, row.name};
  for (const StripItem& item : row.items) {
    if (item.kind != ItemKind::clip) continue;
    if (item.range.contains(t)) now.clip = journal::ClipId{item.id};
    if (item.range.end() <= t) now.off_since = std::max(now.off_since.value_or(item.range.end()), item.range.end());
    if (item.range.begin() > t)
      now.off_until = std::min(now.off_until.value_or(item.range.begin()), item.range.begin());
  }
  return now;
}

}  // namespace

std::optional<SessionTime> next_moment(const StripRows& rows, JumpTo what, Direction direction, SessionTime from) {
  std::optional<SessionTime> best;
  for (const StripRow& row : rows.rows) {
    for (const StripItem& item : row.items) {
      if (!is_wanted(item, what)) continue;
      const SessionTime at = item.range.begin();
      if (direction == Direction::forward && at > from + a_moment) best = std::min(best.value_or(at), at);
      if (direction == Direction::back && at < from - a_moment) best = std::max(best.value_or(at), at);
    }
  }
  return best;
}

std::vector<CameraNow> cameras_at(const StripRows& rows, SessionTime t) {
  std::vector<CameraNow> all;
  for (const StripRow& row : rows.rows) {
    if (row.kind == RowKind::camera) all.push_back(camera_at(row, t));
  }
  return all;
}

}  // namespace jigtime::app
