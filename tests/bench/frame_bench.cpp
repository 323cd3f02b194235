// How long the window takes to build a frame of the bench: 8 hours, 4 cameras, 300 clips, 500 spans, with their sounds.
// No window is opened: everything is laid out, drawn into lists and thrown away. Processor time of the thread.
#include <imgui.h>
#include <time.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <random>

#include "app/fonts.h"
#include "app/frame.h"
#include "app/theme.h"

namespace {

using namespace jigtime;
using namespace std::chrono_literals;

constexpr int cameras = 4;
constexpr int clips_each = 75;
constexpr int spans = 500;
constexpr int frames = 400;

SessionTime at(Length t) { return SessionTime{t}; }

void add_clips(journal::SessionRecord& record, journal::Register& known) {
  const Length each = Length{8h} / clips_each;
  for (int camera = 0; camera < cameras; ++camera) {
    known.cameras.push_back({journal::CameraId{camera + 1}, "camera " + std::to_string(camera + 1)});
    for (int i = 0; i < clips_each; ++i) {
      journal::Clip clip;
      clip.id = journal::ClipId{camera * clips_each + i + 1};
      clip.camera = journal::CameraId{camera + 1};
      clip.length = each - 20s;
      clip.parts.emplace_back().path = "TAKE" + std::to_string(i) + ".MP4";
      clip.sound = journal::Sound{"aac", 48000, 2};
      journal::Placement placement;
      placement.clip = clip.id;
      placement.basis = i % 10 == 0 ? journal::Basis::clock : journal::Basis::audio;
      placement.pieces = {
          {ClipTime{}, ClipTime{clip.length}, at(each * i), 1200, i % 10 == 0 ? Length{9s} : Length{400us}}};
      record.placements.push_back(placement);
      record.clips.push_back(std::move(clip));
    }
  }
}

void add_spans(journal::SessionRecord& record, journal::Register& known) {
  for (int i = 0; i < 30; ++i)
    known.tasks.push_back({journal::TaskId{i + 1}, "Rivet the upper skin, bay " + std::to_string(i), {}, "", ""});
  known.people = {{journal::PersonId{1}, "Tova", journal::Role::builder},
                  {journal::PersonId{2}, "Emil", journal::Role::helper}};
  for (int i = 0; i < spans; ++i) {
    journal::Span span;
    span.id = journal::SpanId{i + 1};
    span.begin = at(Length{8h} / spans * i);
    span.end = span.begin + 50s;
    span.task = journal::TaskId{i % 30 + 1};
    span.people = {journal::PersonId{i % 2 + 1}};
    record.spans.push_back(span);
    if (i % 5 == 0) record.marks.push_back({journal::MarkId{i + 1}, {}, span.begin + 10s, "look again"});
    if (i % 4 == 0) {
      record.proposals.push_back(
          {journal::ProposalId{i + 1}, {}, journal::ProposalKind::riveting, span.begin, span.end, 40, 900});
    }
  }
}

std::shared_ptr<const app::Snapshot> big_day() {
  auto snapshot = std::make_shared<app::Snapshot>();
  auto view = std::make_shared<app::BenchView>();
  view->record.session.date = std::chrono::year{2026} / 3 / 14;
  add_clips(view->record, snapshot->known);
  add_spans(view->record, snapshot->known);
  report::Timeline timeline;
  timeline.known = snapshot->known;
  timeline.record = view->record;
  view->day = report::day_of(timeline);
  view->rows = app::rows_of(view->day, snapshot->known, view->record);
  view->recent = app::recent_tasks(snapshot->known, view->record);
  snapshot->bench = std::move(view);
  return snapshot;
}

void add_sounds(app::Model& model) {
  std::mt19937 random{1};
  for (const journal::Clip& clip : model.view().record.clips) {
    std::vector<std::uint8_t> peaks(static_cast<std::size_t>(to_seconds(clip.length) * 20));
    for (auto& peak : peaks) peak = static_cast<std::uint8_t>(random());
    model.bench.loudness.emplace(clip.id.value, app::Loudness{ClipTime{}, 20, std::move(peaks)});
  }
}

/// Of this thread's own processor time: what else the machine does must not count.
double thread_ms() {
  timespec now{};
  ::clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) * 1e3 + static_cast<double>(now.tv_nsec) / 1e6;
}

double frame_ms(app::Model& model) {
  const double begin = thread_ms();
  ImGui::NewFrame();
  app::draw_frame(model, {});
  ImGui::Render();
  return thread_ms() - begin;
}

void measure(app::Model& model, const char* name, Length length) {
  std::vector<double> taken;
  const SessionRange whole = model.view().rows.whole;
  for (int i = 0; i < frames; ++i) {
    model.bench.window.length = std::min(length, whole.length());
    model.bench.window.from = at((whole.length() - model.bench.window.length) / frames * i);
    taken.push_back(frame_ms(model));
  }
  std::sort(taken.begin(), taken.end());
  std::printf("%-12s median %5.2f ms   95 %% %5.2f ms   most %5.2f ms   items drawn %zu\n", name, taken[frames / 2],
              taken[frames * 95 / 100], taken.back(), model.bench.layout.boxes.size());
}

}  // namespace

int main() {
  ImGui::CreateContext();
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;
  io.DisplaySize = {1920, 1080};
  io.DeltaTime = 1.0F / 60;
  app::use_theme(app::Paper::dark, 1);
  app::load_fonts(app::preferred_font(), 17);
  unsigned char* pixels = nullptr;
  int width = 0;
  int height = 0;
  io.Fonts->GetTexDataAsRGBA32(&pixels, &width, &height);
  {
    app::Model model{[] {}};
    model.snapshot = big_day();
    model.screen = app::Screen::bench;
    add_sounds(model);
    std::printf("8 h, %d cameras, %zu clips, %d spans, 1920 x 1080; %d frames each\n", cameras,
                model.view().record.clips.size(), spans, frames);
    frame_ms(model);
    model.bench.fit = false;
    measure(model, "whole day", 9h);
    measure(model, "one hour", 1h);
    measure(model, "one minute", 1min);
    measure(model, "one second", 1s);
  }
  ImGui::DestroyContext();
  return 0;
}
