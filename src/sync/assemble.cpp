#include "sync/assemble.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "signal/statistics.h"
#include "sync/at.h"
#include "sync/clocks.h"
#include "sync/judge.h"
#include "sync/loss_doubt.h"

namespace jigtime::sync {

namespace {

/// A builder places a clip by eye to about a picture (common practice, no source).
constexpr double manual_sigma = 0.02;
constexpr double manual_slack = 0.04;
constexpr double too_short = 5;
constexpr double least_sigma = 5e-5;
constexpr double straight_enough = 0.0025;  // seconds that a warming camera may stray from one piece's line
/// Seconds by which a loss may lie elsewhere before that is told.
constexpr double surely_placed = 2;
/// Clocks that differ by less bear each other out.
constexpr double one_setting = 30;

ClipTime clip_time(double seconds) { return ClipTime{from_seconds(seconds)}; }
SessionTime session_time(double seconds) { return SessionTime{from_seconds(seconds)}; }

/// Where a component's own clock lies on the session's.
struct Shift {
  bool known = false;
  double seconds = 0;
  double sigma = 0;
  bool by_clock = false;
};

class Assembly {
 public:
  Assembly(const std::vector<ClipInput>& clips, int cameras, const Findings& findings)
      : clips_{clips}, cameras_{cameras}, findings_{findings}, book_{clips, findings.reference} {}

  LineUp run() {
    line_up_.clips.resize(clips_.size());
    line_up_.reference = findings_.reference;
    group();
    shift_by_hand();
    shift_main();
    shift_by_clock();
    for (int clip = 0; clip < static_cast<int>(clips_.size()); ++clip) place(clip);
    note_two_places();
    note_refused();
    note_doubted();
    set_zero();
    describe_cameras();
    return std::move(line_up_);
  }

 private:
  const Node& node(int i) const { return findings_.graph.nodes[at(i)]; }
  const Solved::Place& place_of(int i) const { return findings_.solved.places[at(i)]; }
  double on_component(int i, double t) const { return place_of(i).start + (t - node(i).from) * (1 + place_of(i).rate); }
  double rate_of(int clip) const { return findings_.solved.rates[at(clips_[at(clip)].camera)]; }

  /// Nodes by clip, and which components hold more than one clip's word.
  void group() {
    nodes_.resize(clips_.size());
    connected_.assign(findings_.graph.nodes.size(), false);
    heard_ = connected_;
    for (int i = 0; i < static_cast<int>(findings_.graph.nodes.size()); ++i) {
      nodes_[at(node(i).clip)].push_back(i);
      shifts_[findings_.solved.component[at(i)]];
    }
    for (std::size_t i = 0; i < findings_.graph.edges.size(); ++i) {
      if (findings_.solved.dropped[i]) continue;
      const Edge& edge = findings_.graph.edges[i];
      connected_[at(edge.a)] = connected_[at(edge.b)] = true;
      if (edge.match >= 0) heard_[at(edge.a)] = heard_[at(edge.b)] = true;
    }
  }

  int node_at(int clip, double t) const {
    int found = nodes_[at(clip)].front();
    for (const int i : nodes_[at(clip)]) {
      if (t >= node(i).from) found = i;
    }
    return found;
  }

  void shift_by_hand() {
    std::map<int, std::vector<double>> shifts;
    for (int clip = 0; clip < static_cast<int>(clips_.size()); ++clip) {
      const auto& manual = clips_[at(clip)].manual;
      if (!manual) continue;
      by_hand_ = true;
      const int i = node_at(clip, to_seconds(manual->at));
      shifts[findings_.solved.component[at(i)]].push_back(to_seconds(manual->is) -
                                                          on_component(i, to_seconds(manual->at)));
    }
    for (auto& [component, values] : shifts) {
      // Placing one clip by hand moves that clip, not the session clock that the others were on.
      const std::vector<double> kept = shifts_before(component);
      shifts_[component] = {true, signal::median(kept.empty() ? values : kept), kept.empty() ? manual_sigma : 0, false};
      learn(component);
    }
  }

  /// How far each clip of the component, those placed by hand left out, lay from where it lies now.
  std::vector<double> shifts_before(int component) const {
    std::vector<double> shifts;
    for (int clip = 0; clip < static_cast<int>(clips_.size()); ++clip) {
      const ClipInput& input = clips_[at(clip)];
      const int i = nodes_[at(clip)].front();
      if (!input.before || input.manual || findings_.solved.component[at(i)] != component) continue;
      shifts.push_back(to_seconds(*input.before) - on_component(i, 0));
    }
    return shifts;
  }

  void shift_main() {
    if (by_hand_) return;
    // The longest of those that hold together by sound: components come by length.
    std::optional<int> main;
    for (std::size_t i = 0; i < connected_.size(); ++i) {
      const int component = findings_.solved.component[i];
      if ((connected_[i] || clips_.size() == 1) && (!main || component < *main)) main = component;
    }
    if (main) {
      shifts_[*main].known = true;
      learn(*main);
      return;
    }
    // No two clips share a sound: the most trusted clock alone can carry the session.
    const auto first =
        std::find_if(clips_.begin(), clips_.end(), [](const ClipInput& clip) { return !clip.clocks.empty(); });
    if (first == clips_.end()) return;
    const int clip = static_cast<int>(first - clips_.begin());
    const int component = findings_.solved.component[at(nodes_[at(clip)].front())];
    shifts_[component] = {true, 0, to_seconds(first->clocks.front().sigma), true};
    learn(component);
  }

  /// The clock book learns where a component's clips begin.
  void learn(int component) {
    for (int i = 0; i < static_cast<int>(findings_.graph.nodes.size()); ++i) {
      if (findings_.solved.component[at(i)] != component || nodes_[at(node(i).clip)].front() != i) continue;
      book_.learn(node(i).clip, on_component(i, 0) + shifts_[component].seconds);
    }
  }

  void shift_by_clock() {
    for (auto& [component, shift] : shifts_) {
      if (shift.known) continue;
      std::vector<Shift> words;
      for (int clip = 0; clip < static_cast<int>(clips_.size()); ++clip) {
        const int i = nodes_[at(clip)].front();
        if (findings_.solved.component[at(i)] != component) continue;
        if (against_sound(clip)) continue;
        if (const auto place = book_.place(clip))
          words.push_back({true, place->start - on_component(i, 0), place->sigma, true});
      }
      if (!words.empty()) shift = most_borne_out(words);
    }
  }

  /// Whether sound that is well proven, if not for the clip's clock, says something else than that.
  bool against_sound(int clip) const {
    return std::ranges::any_of(findings_.matches, [clip](const PairMatch& match) {
      return match.against_clocks && (match.a == clip || match.b == clip);
    });
  }

  /// Of what several clips' clocks say of their component, the word that most others bear out; then the surest. A
  /// clock that was reset to a factory date stands alone.
  static Shift most_borne_out(const std::vector<Shift>& words) {
    const auto alike = [](const Shift& a, const Shift& b) {
      return std::abs(a.seconds - b.seconds) <= one_setting + 3 * std::hypot(a.sigma, b.sigma);
    };
    const auto key = [&](const Shift& word) {
      const auto others = std::count_if(words.begin(), words.end(), [&](const Shift& one) { return alike(one, word); });
      return std::tuple{word.sigma > 10 * surest(words), -others, word.sigma};
    };
    const Shift best =
        *std::min_element(words.begin(), words.end(), [&](const Shift& a, const Shift& b) { return key(a) < key(b); });
    std::vector<double> shifts;
    for (const Shift& word : words) {
      if (alike(word, best) && word.sigma <= 1.5 * best.sigma) shifts.push_back(word.seconds);
    }
    return {true, signal::median(std::move(shifts)), best.sigma, true};
  }

  static double surest(const std::vector<Shift>& words) {
    double least = INFINITY;
    for (const Shift& word : words) least = std::min(least, word.sigma);
    return least;
  }

  void place(int clip) {
    ClipResult& result = line_up_.clips[at(clip)];
    const ClipInput& input = clips_[at(clip)];
    add_evidence(clip, result);
    const auto any_of = [&](const std::vector<bool>& nodes) {
      return std::any_of(nodes_[at(clip)].begin(), nodes_[at(clip)].end(), [&](int i) { return nodes[at(i)]; });
    };
    const bool heard = any_of(heard_), tied = !heard && !input.manual && any_of(connected_);
    add_notes(clip, heard, result);
    const Shift& shift = shifts_[findings_.solved.component[at(nodes_[at(clip)].front())]];
    if (!shift.known && !input.manual) {
      if (!result.evidence.empty()) {
        result.notes.push_back({.kind = Note::Kind::adrift, .other = result.evidence.front().with});
      }
      if (const auto other = book_.at_once_with(clip)) {
        result.notes.push_back({.kind = Note::Kind::clock_at_once, .other = *other});
      }
      return;
    }
    result.basis = input.manual || tied ? Basis::manual : heard ? Basis::audio : Basis::clock;
    result.tied = tied;
    for (std::size_t first = 0; first < nodes_[at(clip)].size();) {
      const std::size_t count = one_line_from(clip, first);
      result.pieces.push_back(piece_of(nodes_[at(clip)][first], nodes_[at(clip)][first + count - 1], shift));
      first += count;
    }
    if ((heard || tied) && shift.by_clock) result.notes.push_back({.kind = Note::Kind::unconnected});
    if (input.manual) hold(clip, heard, result);
    for (const Split& split : findings_.splits[at(clip)]) {
      if (split.loose > surely_placed) doubt_around(split, result.pieces);
    }
    if (heard) doubt_beyond(clip, result);
  }

  /// Where it parts company with another clip and nobody knows which of them stopped for a while, if either did.
  void doubt_beyond(int clip, ClipResult& result) const {
    const double length = to_seconds(clips_[at(clip)].length);
    for (const Parting& one : findings_.partings) {
      if (one.clip != clip || one.at <= 0 || one.at >= length) continue;
      const double from = one.before ? 0 : one.at, to = one.before ? one.at : length;
      const auto& manual = clips_[at(clip)].manual;
      if (manual && to_seconds(manual->at) >= from && to_seconds(manual->at) <= to) continue;
      doubt_within(from, to, unheard_loss_sigma, result.pieces);
      result.notes.push_back(
          {.kind = Note::Kind::parts_company, .other = one.other, .clip_at = clip_time(one.at), .before = one.before});
    }
    for (const Hold& hold : findings_.holds) {
      for (const Hold::Stretch& one : hold.beyond) {
        if (one.clip != clip || clips_[at(clip)].manual) continue;
        doubt_within(one.within.from, one.within.to, hold.seconds, result.pieces);
      }
      if (hold.clip == clip) result.notes.push_back(note_of(hold));
    }
  }

  double begin_of(int i) const { return place_of(i).start; }
  double end_of(int i) const { return on_component(i, node(i).to); }

  /// How many nodes from the first on one straight line describes: nothing is lost between them and the rate hardly
  /// changes.
  std::size_t one_line_from(int clip, std::size_t first) const {
    const std::vector<int>& nodes = nodes_[at(clip)];
    std::size_t last = first;
    while (last + 1 < nodes.size() && !lost_after(nodes[last])) ++last;
    for (; last > first; --last) {
      const double from = begin_of(nodes[first]), length = node(nodes[last]).to - node(nodes[first]).from;
      const double rate = (end_of(nodes[last]) - from) / length;
      double most = 0;
      for (std::size_t k = first; k < last; ++k) {
        const double straight = from + rate * (node(nodes[k]).to - node(nodes[first]).from);
        most = std::max(most, std::abs(end_of(nodes[k]) - straight));
      }
      if (most <= straight_enough) break;
    }
    return last - first + 1;
  }

  bool lost_after(int i) const {
    const auto& links = findings_.graph.links;
    return std::any_of(links.begin(), links.end(),
                       [i](const Link& link) { return link.before == i && link.lost != 0; });
  }

  /// One piece from the begin of a node to the end of another.
  Piece piece_of(int first, int last, const Shift& shift) const {
    Piece piece;
    piece.clip_from = clip_time(node(first).from);
    piece.clip_to = clip_time(node(last).to);
    const double length = node(last).to - node(first).from;
    const double rate = first == last ? place_of(first).rate : (end_of(last) - begin_of(first)) / length - 1;
    piece.rate_ppb = std::llround(rate * 1e9);
    piece.session_start = session_time(begin_of(first) + shift.seconds);
    double sigma = 0;
    for (int i = first; i <= last; ++i) sigma = std::max(sigma, place_of(i).sigma);
    piece.sigma = from_seconds(std::max(least_sigma, std::hypot(sigma, shift.sigma)));
    return piece;
  }

  /// Moves the pieces so that the builder's point lies where the builder said.
  void hold(int clip, bool heard, ClipResult& result) {
    const ManualPlace& manual = *clips_[at(clip)].manual;
    const Piece* piece = piece_at(result.pieces, manual.at);
    if (piece == nullptr) piece = &result.pieces.front();
    const SessionTime by_sound = piece->to_session(manual.at);
    const Length off = manual.is - by_sound;
    const double sigma = place_of(node_at(clip, to_seconds(manual.at))).sigma;
    if (heard && std::abs(to_seconds(off)) > std::max(manual_slack, 3 * sigma)) {
      result.notes.push_back(
          {.kind = Note::Kind::manual_disagrees, .clip_at = manual.at, .length = off, .at = by_sound});
    }
    for (Piece& one : result.pieces) {
      one.session_start += off;
      one.sigma = from_seconds(manual_sigma);
    }
  }

  void add_evidence(int clip, ClipResult& result) const {
    for (std::size_t m = 0; m < findings_.matches.size(); ++m) {
      const PairMatch& match = findings_.matches[m];
      if ((match.a != clip && match.b != clip) || match.segments.empty()) continue;
      bool used = false;
      for (std::size_t i = 0; i < findings_.graph.edges.size(); ++i) {
        used |= findings_.graph.edges[i].match == static_cast<int>(m) && !findings_.solved.dropped[i];
      }
      if (!used) continue;
      Evidence evidence{match.a == clip ? match.b : match.a, from_seconds(match.overlap), 0, 0, 0};
      for (const Segment& segment : match.segments) {
        evidence.score = std::max(evidence.score, segment.proof);
        evidence.windows += segment.windows;
        evidence.agreed += segment.agreed;
      }
      result.evidence.push_back(evidence);
    }
  }

  void add_notes(int clip, bool heard, ClipResult& result) const {
    const ClipInput& input = clips_[at(clip)];
    for (const Split& split : findings_.splits[at(clip)]) {
      result.notes.push_back({.kind = Note::Kind::dropout,
                              .clip_at = clip_time(split.at),
                              .length = from_seconds(split.seconds),
                              .loose = from_seconds(split.loose > surely_placed ? split.loose : 0),
                              .supposed = split.supposed ? Note::Supposed::joins : Note::Supposed::no});
    }
    if (heard) return;
    Note note;
    note.kind = input.features == nullptr || input.sound == nullptr ? Note::Kind::no_sound
                : findings_.silent[at(clip)]                        ? Note::Kind::silent
                : to_seconds(input.length) < too_short              ? Note::Kind::too_short
                                                                    : Note::Kind::no_common_sound;
    result.notes.push_back(note);
  }

  void note_two_places() {
    for (const PairMatch& match : findings_.matches) {
      if (match.rivals.empty()) continue;
      const auto asked = left_to_place(match.a, match.b);
      if (!asked) continue;
      const int other = *asked == match.a ? match.b : match.a;
      Note note{.kind = Note::Kind::two_places, .other = other};
      note.beside_other = line_up_.clips[at(other)].pieces.empty();
      note.at = offered(match.rivals[0], *asked == match.a, other);
      note.at_2 = offered(match.rivals[1], *asked == match.a, other);
      tell_instead(*asked, note);
    }
  }

  /// Of each clip what is best proven.
  void note_refused() {
    std::vector<const Refused*> all;
    for (const Refused& one : findings_.refused) all.push_back(&one);
    std::stable_sort(all.begin(), all.end(),
                     [](const Refused* x, const Refused* y) { return x->segment.proof > y->segment.proof; });
    std::vector<bool> told(clips_.size(), false);
    for (const Refused* one : all) {
      const auto asked = left_to_place(one->a, one->b);
      if (!asked || told[at(*asked)]) continue;
      told[at(*asked)] = true;
      const int other = *asked == one->a ? one->b : one->a;
      offer(*asked, *asked == one->a, one->segment,
            {.kind = Note::Kind::not_then,
             .other = other,
             .clash = one->clash.clip,
             .clash_2 = one->clash.other,
             .why = one->clash.why});
    }
  }

  /// The same, of clips of which nothing else is told.
  void note_doubted() {
    std::vector<const PairMatch*> all;
    for (const PairMatch& match : findings_.matches) {
      if (!match.doubted.empty()) all.push_back(&match);
    }
    const auto proof = [](const PairMatch* match) { return strongest(match->doubted).proof; };
    std::ranges::stable_sort(all, std::ranges::greater{}, proof);
    for (const PairMatch* match : all) {
      const auto asked = left_to_place(match->a, match->b);
      if (!asked || !tells_no_place(*asked)) continue;
      const int other = *asked == match->a ? match->b : match->a;
      offer(*asked, *asked == match->a, strongest(match->doubted), {.kind = Note::Kind::perhaps_then, .other = other});
    }
  }

  bool tells_no_place(int clip) const {
    return std::ranges::none_of(line_up_.clips[at(clip)].notes, [](const Note& note) {
      return note.kind == Note::Kind::two_places || note.kind == Note::Kind::not_then ||
             note.kind == Note::Kind::perhaps_then;
    });
  }

  /// The one of two clips that neither sound nor a hand has placed; the shorter of two such.
  std::optional<int> left_to_place(int a, int b) const {
    const auto placed = [&](int clip) {
      const Basis basis = line_up_.clips[at(clip)].basis;
      return basis == Basis::audio || basis == Basis::manual;
    };
    const bool a_placed = placed(a), b_placed = placed(b);
    if (a_placed && b_placed) return std::nullopt;
    return b_placed || (!a_placed && clips_[at(a)].length <= clips_[at(b)].length) ? a : b;
  }

  /// Tells the clip, the first of the segment's or not, the place that the segment gives it.
  void offer(int clip, bool is_a, const Segment& segment, Note note) {
    note.beside_other = line_up_.clips[at(note.other)].pieces.empty();
    note.at = offered(segment, is_a, note.other);
    tell_instead(clip, note);
  }

  void tell_instead(int clip, const Note& note) {
    auto& notes = line_up_.clips[at(clip)].notes;
    std::erase_if(notes, [](const Note& one) { return one.kind == Note::Kind::no_common_sound; });
    notes.push_back(note);
  }

  /// Session time of the asked clip's zero if the segment, whose first clip it is or not, were right; seconds of the
  /// other clip where that has no place.
  SessionTime offered(const Segment& segment, bool is_a, int other) const {
    const double middle = segment.fit.line.at, lag = segment.fit.line(middle);
    const double on_asked = is_a ? middle : middle + lag, on_other = is_a ? middle + lag : middle;
    const auto& pieces = line_up_.clips[at(other)].pieces;
    if (pieces.empty()) return session_time(on_other - on_asked);
    const Piece* piece = piece_at(pieces, clip_time(on_other));
    if (piece == nullptr) piece = &pieces.front();
    return piece->to_session(clip_time(on_other)) - from_seconds(on_asked);
  }

  void set_zero() {
    if (by_hand_) return;
    std::optional<SessionTime> first;
    for (const ClipResult& clip : line_up_.clips) {
      for (const Piece& piece : clip.pieces) {
        if (!first || piece.session_start < *first) first = piece.session_start;
      }
    }
    if (!first) return;
    moved_ = first->time_since_epoch();
    for (ClipResult& clip : line_up_.clips) {
      for (Piece& piece : clip.pieces) piece.session_start -= moved_;
      for (Note& note : clip.notes) {
        if (note.beside_other) continue;
        note.at -= moved_;
        note.at_2 -= moved_;
      }
    }
  }

  void describe_cameras() {
    const auto zero = book_.zero();
    if (zero) line_up_.zero = WallTime{from_seconds(*zero) + moved_};
    for (int camera = 0; camera < cameras_; ++camera) {
      CameraResult result;
      result.rate_ppb = std::llround(findings_.solved.rates[at(camera)] * 1e9);
      const auto error = book_.error_of(camera);
      result.known = error.has_value() && zero.has_value();
      if (result.known) result.clock_offset = from_seconds(*error - *zero);
      line_up_.cameras.push_back(result);
    }
  }

  const std::vector<ClipInput>& clips_;
  int cameras_;
  const Findings& findings_;
  ClockBook book_;
  LineUp line_up_;
  std::vector<std::vector<int>> nodes_;  // by clip
  std::vector<bool> connected_;          // by node: by sound or by a tie
  std::vector<bool> heard_;              // by node: by sound
  std::map<int, Shift> shifts_;          // by component
  bool by_hand_ = false;
  Length moved_{0};
};

}  // namespace

LineUp assemble(const std::vector<ClipInput>& clips, int cameras, const Findings& findings) {
  return Assembly{clips, cameras, findings}.run();
}

}  // namespace jigtime::sync
