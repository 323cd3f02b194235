#include "demo/recording.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"

namespace jigtime::demo {
namespace {

std::string numbered(std::string_view before, int number, int digits, std::string_view after) {
  std::string text = std::to_string(number);
  text.insert(0, static_cast<std::size_t>(std::max(0, digits - static_cast<int>(text.size()))), '0');
  return std::string{before} + text + std::string{after};
}

/// REC/2026-03-14/20260314_091234.mkv, as a camera writes it that names files by its clock.
std::filesystem::path named_by_clock(WallTime time) {
  const auto day = std::chrono::floor<std::chrono::days>(time);
  const std::string date = to_text(std::chrono::year_month_day{day});
  std::string digits = date + "_" + to_short_clock_text(std::chrono::floor<std::chrono::seconds>(time - day));
  std::erase_if(digits, [](char c) { return c == '-' || c == ':'; });
  if (digits.size() < 15) digits.insert(9, "0");  // the hour has one digit before ten
  return std::filesystem::path{"REC"} / date / (digits + ".mkv");
}

}  // namespace

Recording::Recording(const Scenario& scenario, const RecordingPlan& plan)
    : scenario_{scenario}, plan_{plan}, camera_{scenario.cameras[static_cast<std::size_t>(plan.camera)]} {
  const auto pictures_in = [&](Seconds clip_time) {
    return static_cast<std::int64_t>(std::floor(clip_time * camera_.rate_num / camera_.rate_den));
  };
  if (plan.lost) loss_at_ = pictures_in(plan.lost->after);
  const std::int64_t lost = plan.lost ? plan.lost->pictures : 0;
  const std::int64_t pictures = pictures_in((plan.end - plan.begin) / (1 + camera_.rate_ppm * 1e-6)) - lost;
  std::int64_t from = 0;
  for (std::size_t i = 0; i <= plan.splits.size(); ++i) {
    const std::int64_t to = i < plan.splits.size() ? pictures_in(plan.splits[i]) : pictures;
    parts_.push_back({from, to, part_path(from, static_cast<int>(i))});
    from = to;
  }
}

Seconds Recording::picture_time(std::int64_t picture) const {
  return static_cast<double>(picture) * camera_.rate_den / camera_.rate_num;
}

Seconds Recording::lost_length() const { return plan_.lost ? picture_time(plan_.lost->pictures) : 0; }

Seconds Recording::scene_at(Seconds clip_time, bool after_loss) const {
  return plan_.begin + (clip_time + (after_loss ? lost_length() : 0)) * (1 + camera_.rate_ppm * 1e-6);
}

Seconds Recording::scene_of_picture(std::int64_t picture) const {
  return scene_at(picture_time(picture), loss_at_ >= 0 && picture >= loss_at_);
}

Seconds Recording::scene_of_sample(std::int64_t sample) const {
  const bool after_loss = loss_at_ >= 0 && sample >= sample_at_picture(loss_at_);
  return scene_at(static_cast<double>(sample) / camera_.sample_rate_hz, after_loss);
}

Seconds Recording::sample_step() const { return (1 + camera_.rate_ppm * 1e-6) / camera_.sample_rate_hz; }

std::int64_t Recording::sample_at_picture(std::int64_t picture) const {
  const std::int64_t ticks = picture * camera_.rate_den * camera_.sample_rate_hz;
  return (ticks + camera_.rate_num - 1) / camera_.rate_num;
}

WallTime Recording::device_time(Seconds scene) const {
  return scenario_.zero + from_seconds(scene) + plan_.clock_error;
}

std::filesystem::path Recording::part_path(std::int64_t first_picture, int index) const {
  const int number = plan_.first_number + index;
  if (camera_.container == "mp4") return numbered("DCIM/100BENCH/BNCH", number, 4, ".MP4");
  if (camera_.container == "mov") return numbered("CLIPS/TAKE", number, 4, ".MOV");
  return named_by_clock(device_time(scene_of_picture(first_picture)));
}

}  // namespace jigtime::demo
