#include "report/layout.h"

#include <algorithm>

#include "base/text.h"
#include "report/leaders.h"
#include "report/text_width.h"
#include "report/words.h"

namespace jigtime::report {
namespace {

constexpr double flag_height = 15;
constexpr int flag_levels = 3;
constexpr double axis_height = 16;
constexpr double bar_height = 33;
constexpr double bar_gap = 3;
constexpr double row_gap = 7;
constexpr double padding = 4;
constexpr double bold = 1.12;        ///< how much wider bold letters are
constexpr double least_width = 1.6;  ///< a bar is always seen
/// Where more clips than this overlap, the rest lies in the last row, unlabelled; the table has them all.
constexpr int most_rows = 12;

Look look_of(journal::Basis basis) {
  switch (basis) {
    case journal::Basis::audio: return Look::by_sound;
    case journal::Basis::manual: return Look::by_hand;
    case journal::Basis::clock:
    case journal::Basis::none: return Look::by_clock;
  }
  return Look::by_clock;
}

std::string times_of(const SessionRange& range) {
  return to_short_clock_text(range.begin().time_since_epoch()) + " to " +
         to_short_clock_text(range.end().time_since_epoch());
}

/// What a bar would like to say, best first for each of its two lines.
struct Wording {
  std::vector<std::string> first;
  std::vector<std::string> second;
  std::string leader;  ///< beside the bar, where not even the last of `first` fits
  std::string tooltip;
  Shorten shorten = Shorten::end;
};

/// Lays the rows of one strip below each other.
class Arranger {
 public:
  Arranger(const Day& day, const Strip& strip)
      : day_{day}, strip_{strip}, layout_{strip, 0, 0, {}, {}, {}, {}, {}, {}} {}

  StripLayout arrange() {
    add_flags();
    layout_.axis_y = y_ + axis_height - 3;
    for (const SessionTime at : ticks_of(strip_)) {
      layout_.ticks.push_back({x_of(at), to_short_clock_text(at.time_since_epoch())});
    }
    y_ += axis_height + 2;
    for (const CameraLane& lane : day_.cameras) add_camera(lane);
    for (const PeopleRow& row : day_.people) add_person(row);
    layout_.height = y_;
    return std::move(layout_);
  }

 private:
  double x_of(SessionTime at) const {
    // Apart before they become double: times far from zero keep their fractions of a pixel.
    const double into = to_seconds(at - strip_.range.begin());
    const double x = into / to_seconds(strip_.range.length()) * chart_width;
    return std::clamp(x, -overhang, chart_width + overhang);
  }

  void add_flags() {
    std::vector<double> level_ends(flag_levels, -overhang);
    for (const MarkFlag& mark : day_.marks) {
      if (!strip_.range.contains(mark.at)) continue;
      Flag flag{x_of(mark.at), {}, "M" + std::to_string(mark.number), {}};
      flag.tooltip = flag.text + ", " + to_short_clock_text(mark.at.time_since_epoch()) + ": " + mark.words;
      const double width = text_width(flag.text, small_text) + 2 * padding;
      const double x = std::min(flag.pole_x, chart_width - width);
      const auto level = std::find_if(level_ends.begin(), level_ends.end(), [&](double end) { return end <= x; });
      if (level != level_ends.end()) {
        flag.box = {x, static_cast<double>(level - level_ends.begin()) * flag_height, width, flag_height - 1};
        *level = x + width + 1;
      }
      layout_.flags.push_back(std::move(flag));
    }
    const auto used = std::count_if(level_ends.begin(), level_ends.end(), [](double end) { return end > -overhang; });
    // Level 0 stands lowest, next to the axis.
    for (Flag& flag : layout_.flags) flag.box.y = static_cast<double>(used - 1) * flag_height - flag.box.y;
    y_ = static_cast<double>(used) * flag_height;
  }

  void add_camera(const CameraLane& lane) {
    begin_row();
    for (const Dropout& dropout : lane.dropouts) {
      const std::string length = (dropout.doubt == Doubt::large ? "about " : "") + length_words(dropout.range.length());
      const std::string where = dropout.kind == DropoutKind::inside_clip ? " inside the clip" : " between clips";
      add_bar(dropout.range, Look::dropout, dropout.row,
              {{"dropout"},
               {length},
               "dropout " + length,
               "Dropout" + where + ", " + times_of(dropout.range) + ", " + length,
               Shorten::end});
    }
    for (const ClipBar& clip : lane.clips) {
      for (const SessionRange& piece : clip.pieces)
        add_bar(piece, look_of(clip.basis), clip.row, wording_of(clip, sigma_in(clip, piece)));
      if (clip.doubt == Doubt::large) add_whiskers(clip);
    }
    std::string about = lane.is_reference ? "camera, reference" : "camera";
    if (lane.clips.empty()) about = "no placed clip";
    end_row(lane.name, about);
  }

  /// A stretch in which a loss lies nobody knows where may be off by more than the rest.
  static Length sigma_in(const ClipBar& clip, const SessionRange& piece) {
    for (const ClipBar::Vague& vague : clip.vague) {
      if (vague.range == piece) return vague.sigma;
    }
    return clip.sigma;
  }

  static Wording wording_of(const ClipBar& clip, Length doubt) {
    const std::string number = (doubt > clip.sigma ? "? C" : "C") + std::to_string(clip.number);
    const std::string sigma = sigma_words(doubt);
    const std::string basis{basis_words(clip.basis)};
    Wording wording{{number + " " + clip.name, number}, {}, number, {}, Shorten::middle};
    if (doubt > Length{0}) wording.second = {basis + ", " + sigma, sigma};
    wording.second.push_back(basis);
    wording.tooltip = number + " " + clip.name + ", " + times_of(*SessionRange::make(clip.begin(), clip.end())) +
                      ", placed " + basis + ", " + sigma;
    return wording;
  }

  void add_person(const PeopleRow& row) {
    const bool here = std::any_of(row.spans.begin(), row.spans.end(),
                                  [&](const SpanBar& bar) { return strip_.range.overlaps(bar.range); });
    if (!here) return;
    begin_row();
    for (const SpanBar& bar : row.spans) {
      const std::string number = "S" + std::to_string(bar.number);
      const std::string length = length_words(bar.range.length());
      std::string tooltip = number + " " + bar.title + ", " + times_of(bar.range) + ", " + length;
      if (!bar.note.empty()) tooltip += ". " + bar.note;
      add_bar(bar.range, bar.kind == journal::SpanKind::pause ? Look::pause : Look::work, bar.row,
              {{number + " " + bar.title, number}, {length}, number, std::move(tooltip), Shorten::end});
    }
    end_row(row.name, row.about);
  }

  void begin_row() {
    rows_used_ = 1;
    unlabelled_ = 0;
    leaders_.clear();
  }

  void add_bar(const SessionRange& range, Look look, int row, const Wording& wording) {
    if (!strip_.range.overlaps(range)) return;
    const int shown_row = std::min(row, most_rows - 1);
    rows_used_ = std::max(rows_used_, shown_row + 1);
    Bar bar;
    bar.look = look;
    bar.tooltip = wording.tooltip;
    const double left = x_of(range.begin());
    bar.box = {left, y_ + shown_row * (bar_height + bar_gap), std::max(x_of(range.end()) - left, least_width),
               bar_height};
    const double text_left = std::max(left, 0.0);
    const double room = std::min(left + bar.box.width, chart_width) - text_left - 2 * padding;
    if (row < most_rows) bar.lines = lines_for(wording, room);
    if (bar.lines.empty()) want_leader(bar, row, wording.leader);
    layout_.bars.push_back(std::move(bar));
  }

  static std::vector<std::string> lines_for(const Wording& wording, double room) {
    std::vector<std::string> lines;
    const auto add_line = [&](const std::vector<std::string>& choices, double size, std::size_t least) {
      for (const std::string& choice : choices) {
        // Only the first choice may be shortened; the others are short and mean nothing when cut.
        const std::size_t keep = &choice == &choices.front() ? least : choice.size();
        std::string text = fitted(choice, room, size, wording.shorten, keep);
        if (text.empty()) continue;
        lines.push_back(std::move(text));
        return;
      }
    };
    add_line(wording.first, large_text, std::max<std::size_t>(10, wording.leader.size() + 5));
    if (!lines.empty()) add_line(wording.second, small_text, std::string::npos);
    return lines;
  }

  void want_leader(const Bar& bar, int row, const std::string& text) {
    if (row >= most_rows) {
      ++unlabelled_;
      return;
    }
    leaders_.push_back({bar.look == Look::dropout ? Rank::second : Rank::first, bar.box.x + bar.box.width / 2,
                        bar.box.y + bar.box.height, 0, 0, text});
  }

  void add_whiskers(const ClipBar& clip) {
    if (clip.row >= most_rows) return;
    const double y = y_ + clip.row * (bar_height + bar_gap) + bar_height - 3.5;
    for (const SessionTime end : {clip.begin(), clip.end()}) {
      const auto doubt = SessionRange::make(end - clip.sigma, end + clip.sigma);
      if (!doubt || !strip_.range.overlaps(*doubt)) continue;
      const Whisker whisker{x_of(doubt->begin()), x_of(doubt->end()), y};
      if (whisker.to - whisker.from >= 2) layout_.whiskers.push_back(whisker);
    }
  }

  void end_row(const std::string& name, const std::string& about) {
    const double height = rows_used_ * (bar_height + bar_gap) - bar_gap;
    double below = y_ + height;
    if (!leaders_.empty()) {
      below += leader_row_height;
      unlabelled_ += place_leaders(leaders_, {0, chart_width}, below - 2, small_text);
      layout_.leaders.insert(layout_.leaders.end(), leaders_.begin(), leaders_.end());
    }
    RowLabel label{y_, below - y_, fitted(name, gutter_width - 8, large_text * bold, Shorten::end, 1), about, name};
    if (unlabelled_ > 0) label.about = "+" + std::to_string(unlabelled_) + ": see tables";
    layout_.rows.push_back(std::move(label));
    y_ = below + row_gap;
  }

  const Day& day_;
  const Strip& strip_;
  StripLayout layout_;
  double y_ = 0;
  int rows_used_ = 1;
  int unlabelled_ = 0;
  std::vector<Leader> leaders_;  ///< wanted in the row at hand
};

}  // namespace

StripLayout layout_of(const Day& day, const Strip& strip) { return Arranger{day, strip}.arrange(); }

}  // namespace jigtime::report
