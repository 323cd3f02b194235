#include "bench/scenes.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "bench/random.h"

namespace jigtime::bench {
namespace {

constexpr std::array<std::pair<Scene, std::string_view>, 13> names{{{Scene::in_step, "in_step"},
                                                                    {Scene::spread, "spread"},
                                                                    {Scene::chain, "chain"},
                                                                    {Scene::many, "many"},
                                                                    {Scene::dropouts, "dropouts"},
                                                                    {Scene::hour, "hour"},
                                                                    {Scene::repeated, "repeated"},
                                                                    {Scene::steady, "steady"},
                                                                    {Scene::microphones, "microphones"},
                                                                    {Scene::handled, "handled"},
                                                                    {Scene::soundless, "soundless"},
                                                                    {Scene::unrelated, "unrelated"},
                                                                    {Scene::impostors, "impostors"}}};

constexpr int likenesses = 5;

constexpr WallTime shop_opens{std::chrono::seconds{1773500400}};  // an afternoon in March 2026

Place anywhere(Random& random) {
  return {random.uniform(0.5, 5.5), random.uniform(0.5, 7.5), random.uniform(0.8, 1.8)};
}

CameraClock draw_clock(Random& random) {
  return {std::clamp(30 * random.normal(), -95.0, 95.0), random.uniform(-10, 10), random.uniform(600, 1800)};
}

class Drawer {
 public:
  Drawer(const Cell& cell, std::uint64_t number) : cell_{cell}, random_{number} { plan_.number = number; }

  SessionPlan draw() {
    const bool one_source = cell_.scene == Scene::in_step || cell_.scene == Scene::dropouts;
    plan_.arrival = one_source ? Arrival::in_step : Arrival::as_far;
    plan_.room.decay_s = one_source ? random_.uniform(0.15, 0.4) : random_.uniform(0.25, 0.8);
    for (int i = 0; i < all_positions; ++i) plan_.positions.push_back(anywhere(random_));
    if (one_source) std::fill(plan_.positions.begin(), plan_.positions.end(), Place{3, 4, 1.2});
    lay_out_clips();
    shop_.length_s = plan_.length_s;
    fill_with_events();
    return plan_;
  }

  ShopPlan& shop() { return shop_; }

 private:
  /// A stated overlap promises something to hear in it: a second in four, as far as a few tries get there.
  void fill_with_events() {
    for (int tries = 0; tries < 50; ++tries) {
      plan_.events = make_schedule(shop_, random_.bits());
      if (cell_.overlap_s <= 0) return;
      const double from = plan_.clips[1].begin_s;
      const double to = std::min(plan_.clips[0].end_s, plan_.clips[1].end_s);
      if (eventful_seconds(plan_.events, from, to) >= std::min(30.0, 0.28 * cell_.overlap_s)) return;
    }
  }

  void lay_out_clips() {
    switch (cell_.scene) {
      case Scene::in_step:
      case Scene::spread: two_clips(cell_.overlap_s, random_.uniform(20, 200)); break;
      case Scene::chain: chain(); break;
      case Scene::many: many(); break;
      case Scene::dropouts: with_dropouts(); break;
      case Scene::hour: two_clips(3600, 60); break;
      case Scene::repeated:
        shop_.repeats = random_.chance(0.5) ? Repeats::song_twice : Repeats::phrase_twice;
        two_clips(random_.uniform(90, 300), random_.uniform(20, 200));
        break;
      case Scene::steady:
        shop_.background = Background::compressor_all_along;
        two_clips(random_.uniform(60, 300), random_.uniform(20, 100));
        break;
      case Scene::microphones: strange_microphones(); break;
      case Scene::handled: handled(); break;
      case Scene::soundless: soundless(); break;
      case Scene::unrelated:
      case Scene::impostors: unrelated(); break;
    }
  }

  int add_camera() {
    CameraPlan camera;
    // Within a square of 2.8 m: never more than 4 m apart.
    camera.microphone_at = {corner_.x + random_.uniform(0, 2.8), corner_.y + random_.uniform(0, 2.8),
                            random_.uniform(1, 2)};
    camera.clock = draw_clock(random_);
    camera.microphone.snr_db = cell_.snr_db;
    plan_.cameras.push_back(camera);
    return static_cast<int>(plan_.cameras.size()) - 1;
  }

  ClipPlan& add_clip(int camera, double begin_s, double end_s) {
    ClipPlan clip;
    clip.camera = camera;
    clip.begin_s = begin_s;
    clip.end_s = end_s;
    clip.sound_starts_s = random_.chance(0.5) ? 0.0 : random_.uniform(-0.04, 0.04);
    plan_.clips.push_back(clip);
    return plan_.clips.back();
  }

  void two_clips(double overlap_s, double more_s) {
    const double before = random_.uniform(0.2, 1) * more_s;
    const double after = random_.uniform(0.2, 1) * more_s;
    const double zero = 1;
    const int a = add_camera();
    const int b = add_camera();
    plan_.length_s = zero + before + overlap_s + after + 1;
    if (random_.chance(0.3)) {  // one inside the other
      add_clip(a, zero, plan_.length_s - 1);
      add_clip(b, zero + before, zero + before + overlap_s);
    } else {
      add_clip(a, zero, zero + before + overlap_s);
      add_clip(b, zero + before, plan_.length_s - 1);
    }
  }

  void chain() {
    const double first = random_.uniform(60, 120);
    const double second = random_.uniform(60, 120);
    const int a = add_camera();
    const int b = add_camera();
    const int c = add_camera();
    add_clip(a, 1, 200 + first);
    add_clip(b, 200, 400 + first + second);
    add_clip(c, 400 + first, 600 + first + second);
    plan_.length_s = 602 + first + second;
  }

  void strange_microphones() {
    two_clips(random_.uniform(60, 300), random_.uniform(20, 200));
    for (CameraPlan& camera : plan_.cameras) {
      Microphone& microphone = camera.microphone;
      microphone.automatic_gain = random_.chance(0.5);
      if (random_.chance(0.4)) microphone.loudest = random_.uniform(1.5, 4);
      if (random_.chance(0.4)) microphone.wind_bursts_per_minute = random_.uniform(1, 8);
      if (random_.chance(0.4)) microphone.recorded_at_hz = random_.chance(0.5) ? 8000 : 11025;
      microphone.inverted = random_.chance(0.3);
    }
  }

  void handled() {
    two_clips(random_.uniform(60, 300), random_.uniform(20, 200));
    for (CameraPlan& camera : plan_.cameras) {
      camera.microphone.wind_bursts_per_minute = random_.uniform(0, 8);
      camera.microphone.knocks_per_minute = random_.log_uniform(3, 30);
    }
  }

  void with_dropouts() {
    const double length_s = random_.uniform(400, 800);
    plan_.length_s = length_s + 2;
    for (int i = 0; i < 3; ++i) add_clip(add_camera(), 1 + random_.uniform(0, 20), length_s - random_.uniform(0, 20));
    ClipPlan& loser = plan_.clips[static_cast<std::size_t>(random_.below(3))];
    double at = random_.uniform(80, length_s / 2 - 60);
    for (int left = 1 + random_.below(2); left > 0; --left) {
      loser.dropouts.push_back({at, random_.log_uniform(0.04, 60), false});
      at = random_.uniform(length_s / 2 + 30, length_s - 100);
    }
  }

  void many() {
    const double length_s = random_.uniform(1000, 1800);
    plan_.length_s = length_s + 2;
    shop_.longest_silence_s = 240;
    for (int left = 3 + random_.below(2); left > 0; --left) clips_of_one_camera(add_camera(), length_s);
  }

  void clips_of_one_camera(int camera, double length_s) {
    if (random_.chance(0.3)) plan_.cameras[static_cast<std::size_t>(camera)].microphone.automatic_gain = true;
    const double camera_wrong_s = draw_clock_fault();
    int count = 0;
    for (double t = random_.uniform(1, 120); t < length_s - 60; ++count) {
      const double end = std::min(length_s, t + random_.log_uniform(90, 1500));
      ClipPlan& clip = add_clip(camera, t, end);
      if (end - t > 300 && random_.chance(0.3)) {
        clip.dropouts.push_back(
            {t + random_.uniform(100, end - t - 150), random_.log_uniform(0.05, 20), random_.chance(0.5)});
      }
      const bool reset = count > 0 && random_.chance(0.1);
      add_clock(clip, reset ? -3.0e8 - t : camera_wrong_s);
      t = end + (random_.chance(0.5) ? random_.uniform(0.5, 4) : random_.uniform(10, 200));
    }
  }

  /// Seconds that a camera's clock is off all along: a little, an hour, local time given as UTC, another zone.
  double draw_clock_fault() {
    const double little = 15 * random_.normal();
    if (random_.chance(0.5)) return little;
    return little + 3600.0 * (random_.chance(0.5) ? 1 : random_.below(23) - 11);
  }

  void add_clock(ClipPlan& clip, double wrong_s) {
    const double told_s = std::floor(clip.begin_s + wrong_s);
    clip.clocks.push_back({shop_opens + from_seconds(told_s + 0.5), std::chrono::milliseconds{300}, 0});
  }

  void soundless() {
    plan_.length_s = 1202;
    const int a = add_camera();
    const int b = add_camera();
    add_clock(add_clip(a, 1, 1200), 10 * random_.normal());
    const double wrong_s = draw_clock_fault();
    const int silent = random_.below(4);
    for (int i = 0; i < 4; ++i) {
      ClipPlan& clip = add_clip(b, 10 + 300 * i, 10 + 300 * i + random_.uniform(150, 270));
      add_clock(clip, wrong_s);
      if (i != silent) continue;
      clip.has_sound = random_.chance(0.5);
      clip.muted = true;
    }
  }

  void unrelated() {
    const double length_s = random_.log_uniform(60, 500);
    plan_.length_s = length_s + 2;
    add_clip(add_camera(), 1, length_s);
    if (cell_.scene == Scene::impostors)
      add_clip(add_camera(), 1 + random_.uniform(0, 10), length_s - random_.uniform(0, 10));
    if (random_.chance(0.3)) plan_.cameras.front().microphone.automatic_gain = true;
    if (random_.chance(0.5)) {
      for (ClipPlan& clip : plan_.clips) add_clock(clip, random_.uniform(-5, 5));
    }
  }

  Cell cell_;
  Random random_;
  Place corner_{1.6, 2.6, 0};
  ShopPlan shop_;
  SessionPlan plan_;
};

/// Days that have as much in common as days can have: the same machines, the same song, the same long silences.
std::vector<SessionPlan> draw_days(const Cell& cell, std::uint64_t number) {
  Random random{number};
  const int days = cell.scene == Scene::impostors ? 2 : 6;
  const std::uint64_t compressor = random.bits();
  const std::uint64_t song = random.bits();
  const Likeness likeness = likeness_of(number);
  std::vector<SessionPlan> plans;
  for (int day = 0; day < days; ++day) {
    Drawer drawer{{cell.scene, random.uniform(-5, 20), 0}, random.bits()};
    ShopPlan& shop = drawer.shop();
    shop.compressor = compressor;
    switch (likeness) {
      case Likeness::shop: break;
      case Likeness::compressor: shop.background = Background::compressor_all_along; break;
      case Likeness::machines_only: shop.work = false; break;
      case Likeness::song:
        shop.background = Background::song_all_along;
        shop.song = song;
        break;
      case Likeness::silence: shop.longest_silence_s = 300; break;
    }
    plans.push_back(drawer.draw());
  }
  return plans;
}

}  // namespace

std::string_view to_text(Scene scene) {
  for (const auto& [one, name] : names) {
    if (one == scene) return name;
  }
  return "?";
}

std::optional<Scene> scene_named(std::string_view name) {
  for (const auto& [scene, its_name] : names) {
    if (its_name == name) return scene;
  }
  return std::nullopt;
}

std::string_view to_text(Likeness likeness) {
  switch (likeness) {
    case Likeness::shop: return "same shop";
    case Likeness::compressor: return "same compressor";
    case Likeness::machines_only: return "machines only";
    case Likeness::song: return "same song";
    case Likeness::silence: return "silence";
  }
  return "?";
}

std::vector<std::string> all_likenesses() {
  std::vector<std::string> texts;
  for (int i = 0; i < likenesses; ++i) texts.emplace_back(to_text(static_cast<Likeness>(i)));
  return texts;
}

Likeness likeness_of(std::uint64_t number) { return static_cast<Likeness>(mix(number) % likenesses); }

std::vector<Cell> all_cells() {
  std::vector<Cell> cells;
  for (const Scene scene : {Scene::in_step, Scene::spread}) {
    for (const double snr_db : {20.0, 10.0, 0.0, -10.0}) {
      for (const double overlap_s : {30.0, 120.0, 600.0}) cells.push_back({scene, snr_db, overlap_s});
    }
    for (const double snr_db : {10.0, 0.0}) cells.push_back({scene, snr_db, 10});
  }
  for (const Scene scene : {Scene::chain, Scene::many, Scene::dropouts, Scene::repeated, Scene::steady,
                            Scene::microphones, Scene::handled}) {
    for (const double snr_db : {10.0, 0.0}) cells.push_back({scene, snr_db, 0});
  }
  cells.push_back({Scene::soundless, 10, 0});
  cells.push_back({Scene::hour, 10, 0});
  return cells;
}

std::vector<SessionPlan> draw(const Cell& cell, std::uint64_t number) {
  if (cell.scene == Scene::unrelated || cell.scene == Scene::impostors) return draw_days(cell, number);
  return {Drawer{cell, number}.draw()};
}

}  // namespace jigtime::bench
