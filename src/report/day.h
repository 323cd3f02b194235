// What the page shows of one session, worked out once: numbered clips in lanes, dropouts, people's rows, flags.
// Must never know: pixels, HTML.
// Begin reading at: day_of.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "report/report.h"

namespace jigtime::report {

/// Small: below one picture. Large: shown with whiskers and words.
enum class Doubt { small, large };

struct ClipBar {
  int number = 0;                  ///< "C7" on the page; counts through all lanes
  std::string name;                ///< one line, clean
  std::vector<std::string> files;  ///< every part's name
  journal::Basis basis = journal::Basis::none;
  std::vector<SessionRange> pieces;  ///< in time; at least one
  Length sigma{0};                   ///< told_sigma
  /// The pieces that it leaves out, and by how much the clip may be off there.
  struct Vague {
    SessionRange range;
    Length sigma{0};
  };
  std::vector<Vague> vague{};
  Doubt doubt = Doubt::small;
  std::vector<std::string> notes;  ///< of the clip, then of its placement, then what its evidence is
  int row = 0;                     ///< within the lane; more than one row only where clips overlap
  journal::ClipId id{};            ///< in the record

  SessionTime begin() const { return pieces.front().begin(); }
  SessionTime end() const;
};

enum class DropoutKind { inside_clip, between_clips };

struct Dropout {
  SessionRange range;
  DropoutKind kind = DropoutKind::between_clips;
  std::vector<int> clips;      ///< numbers of the clip, or of the clips on either side
  Doubt doubt = Doubt::small;  ///< large: its ends are known no better than those of the clips beside it
  int row = 0;
};

/// The largest standard error of a placement's pieces, but for those in which it is more than a picture while for most
/// of the time it is not: around a loss of which nobody heard where it lies. These are told by themselves.
Length told_sigma(const journal::Clip& clip, const journal::Placement& placement);

struct CameraLane {
  std::string name;
  bool is_reference = false;
  std::optional<Length> clock_ahead;  ///< of the session clock; nothing where it is not known
  std::vector<ClipBar> clips;         ///< by begin; may be empty
  std::vector<Dropout> dropouts;
};

struct UnplacedClip {
  std::string camera;
  std::string name;
  std::vector<std::string> files;
  Length length{0};
  std::string why;
};

struct SpanBar {
  int number = 0;  ///< "S3"; the place in the record's order of time
  journal::SpanKind kind = journal::SpanKind::work;
  SessionRange range;
  std::string title;  ///< task, or "Break"
  std::string note;
  int row = 0;
  journal::SpanId id{};  ///< in the record
};

/// One person, or everybody (breaks that name nobody), or nobody (work that names nobody).
struct PeopleRow {
  std::string name;
  std::string about;  ///< role, or what the row is
  std::vector<SpanBar> spans;
};

struct MarkFlag {
  int number = 0;  ///< "M2"
  SessionTime at;
  std::string words;
  journal::MarkId id{};  ///< in the record
};

struct Day {
  std::vector<CameraLane> cameras;
  std::vector<UnplacedClip> unplaced;
  std::vector<PeopleRow> people;
  std::vector<MarkFlag> marks;
};

/// Anything the record holds that cannot be drawn (a span that ends before it begins) is left to the tables.
Day day_of(const Timeline& timeline);

/// Every range and moment on the page, in order of begin: what the strips must show.
std::vector<SessionRange> shown_ranges(const Day& day);

/// How many strips the day wants: more of them when one row holds many bars, so that these stay wide enough to label.
int strips_wanted(const Day& day);

/// Rows so that ranges in one row never overlap, each in the first row with room. Precondition: ordered by begin.
std::vector<int> stacked(const std::vector<SessionRange>& ranges);

/// Beyond this a placement's doubt is drawn: one picture at 25 a second, for clips that do not say how long theirs are.
inline constexpr Length usual_picture = std::chrono::milliseconds{40};

}  // namespace jigtime::report
