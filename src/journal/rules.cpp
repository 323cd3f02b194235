#include "journal/rules.h"

#include <cstdlib>
#include <set>

#include "base/text.h"
#include "handbook/callout.h"
#include "journal/rule_text.h"

namespace jigtime::journal {
namespace {

constexpr SessionTime session_zero{};

Done check_callout(std::string_view callout) {
  const Result<handbook::Callout> read = handbook::parse_callout(callout);
  if (!read) return invalid(read.error().message());
  if (const std::string canonical = read->canonical(); canonical != callout) {
    return invalid("The journal writes the call-out " + in_quotes(callout) + " as " + canonical + ". Write it so.");
  }
  return {};
}

Done check(const FastenerLine& line) {
  if (Done callout = check_callout(line.callout); !callout) return callout;
  const std::string of = " of " + line.callout;
  if (line.set < 1) {
    return invalid("The span sets " + std::to_string(line.set) + of + ". Set at least 1, or leave the line out.");
  }
  if (line.set > most_fasteners) {
    return invalid("The span sets " + std::to_string(line.set) + of + ". Check the number: at most " +
                   std::to_string(most_fasteners) + " can be set in one span.");
  }
  if (line.drilled < 0 || line.drilled > line.set) {
    return invalid("Of " + std::to_string(line.set) + of + " set, " + std::to_string(line.drilled) +
                   " cannot have been drilled out. Count every one that was set, also those drilled out again.");
  }
  return {};
}

Done check_range(const Span& span) {
  const std::string begin = to_clock_text(span.begin);
  if (span.end < span.begin) {
    return invalid("The span ends (" + to_clock_text(span.end) + ") before it begins (" + begin +
                   "). Swap --from and --to.");
  }
  if (span.end == span.begin) {
    return invalid("The span begins and ends at " + begin + ". Give it an end after its beginning.");
  }
  if (span.begin < session_zero) {
    return invalid("The span begins (" + begin + ") before the session does. Begin it at 0:00:00.000 or later.");
  }
  if (!within_reach(span.end.time_since_epoch())) {
    return invalid("The span ends more than a hundred years after the session began. Check its end.");
  }
  return {};
}

Done check_people(const Span& span, const Register& known) {
  std::set<PersonId> seen;
  for (const PersonId id : span.people) {
    const Person* person = known.person(id);
    if (person == nullptr) return invalid("The span names a person who is not in the journal. Add the person first.");
    if (!seen.insert(id).second) {
      return invalid("The span names " + person->name + " more than once. Name each person once.");
    }
  }
  return {};
}

Done check_work(const Span& span, const Register& known) {
  if (span.kind == SpanKind::work && !span.task) {
    return invalid("The span has no task. Name the task that was worked on, or tag it as a break.");
  }
  if (span.task && known.task(*span.task) == nullptr) {
    return invalid("The span names a task that is not in the journal. Add the task first.");
  }
  if (span.kind == SpanKind::pause && !span.fasteners.empty()) {
    return invalid("A break sets no fasteners. Tag the work as a span of its own.");
  }
  return {};
}

std::string numbered_piece(std::size_t index) { return "Piece " + std::to_string(index + 1) + " of the placement of "; }

Done check(const Piece& piece, const std::string& which, const Clip& clip) {
  if (piece.clip_to <= piece.clip_from) return invalid(which + " ends before it begins.");
  if (piece.clip_from < ClipTime{} || piece.clip_to > ClipTime{clip.length}) {
    return invalid(which + " reaches beyond the clip, which lasts " + to_clock_text(clip.length) + ".");
  }
  if (std::abs(piece.rate_ppb) > most_rate_ppb) {
    return invalid(which + " runs " + std::to_string(piece.rate_ppb / 1000) +
                   " ppm off the session clock. A camera's clock is within 1000 ppm: place the clip by hand.");
  }
  if (piece.sigma < Length{0}) return invalid(which + " has a negative standard error.");
  if (!within_reach(piece.session_start.time_since_epoch()) || !within_reach(piece.sigma)) {
    return invalid(which + " lies more than a hundred years from the session. Place the clip by hand.");
  }
  return {};
}

Done check_pieces(const Placement& placement, const Clip& clip) {
  for (std::size_t i = 0; i < placement.pieces.size(); ++i) {
    const std::string which = numbered_piece(i) + clip.name();
    if (Done piece = check(placement.pieces[i], which, clip); !piece) return piece;
    if (i == 0) continue;
    const Piece& before = placement.pieces[i - 1];
    if (placement.pieces[i].clip_from < before.clip_to) {
      return invalid(which + " begins before the one in front of it ends.");
    }
    if (placement.pieces[i].session_start <= before.session_start) {
      return invalid(which + " lies before the one in front of it on the session clock.");
    }
  }
  return {};
}

Done check_evidence(const Placement& placement) {
  for (const Evidence& evidence : placement.evidence) {
    if (evidence.overlap < Length{0} || evidence.agreed < 0 || evidence.agreed > evidence.windows) {
      return invalid("The placement's evidence does not add up: more windows agreed than were tried.");
    }
  }
  return {};
}

}  // namespace

Done check(const Span& span, const Register& known) {
  if (Done range = check_range(span); !range) return range;
  if (Done work = check_work(span, known); !work) return work;
  if (Done people = check_people(span, known); !people) return people;
  for (const FastenerLine& line : span.fasteners) {
    if (Done checked = check(line); !checked) return checked;
  }
  return check_note(span.note, "The span's note");
}

Done check(const Mark& mark) {
  if (mark.at < session_zero) {
    return invalid("The mark (" + to_clock_text(mark.at) +
                   ") lies before the session begins. Put it at 0:00:00.000 "
                   "or later.");
  }
  if (!within_reach(mark.at.time_since_epoch())) {
    return invalid("The mark lies more than a hundred years after the session began. Check its time.");
  }
  return check_note(mark.note, "The mark's note");
}

Done check(const Tie& tie, const Clip& a, const Clip& b) {
  if (a.camera == b.camera || a.session != b.session) {
    return invalid("A tie joins clips of two cameras in one session; " + a.name() + " and " + b.name() +
                   " are of the same camera or of two days. Name a clip of another camera.");
  }
  const auto inside = [](const Clip& clip, ClipTime at) { return at >= ClipTime{} && at <= ClipTime{clip.length}; };
  for (const auto& [clip, at] : {std::pair{&a, tie.at_a}, std::pair{&b, tie.at_b}}) {
    if (inside(*clip, at)) continue;
    return invalid(clip->name() + " lasts " + to_clock_text(clip->length) + "; " +
                   to_clock_text(at.time_since_epoch()) + " is not in it. Give a time within the recording.");
  }
  return {};
}

Done check(const Placement& placement, const Clip& clip) {
  if (placement.clip != clip.id) return invalid("The placement belongs to another clip than " + clip.name() + ".");
  if (placement.basis == Basis::none && !placement.pieces.empty()) {
    return invalid("The placement of " + clip.name() + " has pieces but no basis.");
  }
  if (placement.tied && placement.basis != Basis::manual) {
    return invalid("The placement of " + clip.name() + " is by a tie but not by hand.");
  }
  if (placement.basis != Basis::none && placement.pieces.empty()) {
    return invalid("The placement of " + clip.name() + " has a basis but no pieces.");
  }
  if (Done pieces = check_pieces(placement, clip); !pieces) return pieces;
  return check_evidence(placement);
}

Done check(const Proposal& proposal) {
  if (proposal.end < proposal.begin) return invalid("The proposal ends before it begins.");
  if (!within_reach(proposal.begin.time_since_epoch()) || !within_reach(proposal.end.time_since_epoch())) {
    return invalid("The proposal lies more than a hundred years from the session.");
  }
  if (proposal.count < 0) return invalid("The proposal counts fewer than none.");
  if (proposal.confidence_permille < 0 || proposal.confidence_permille > 1000) {
    return invalid("The proposal's confidence is not between 0 and 1000 thousandths.");
  }
  return {};
}

Done check(const PlannedFastener& planned) {
  if (Done callout = check_callout(planned.callout); !callout) return callout;
  if (planned.count < 0 || planned.count > most_fasteners) {
    return invalid("The plan asks for " + std::to_string(planned.count) + " of " + planned.callout +
                   ". Give a count from 1 to " + std::to_string(most_fasteners) + ", or 0 to take the line away.");
  }
  if (planned.grip_uin && (*planned.grip_uin < 1 || *planned.grip_uin > thickest_grip_uin)) {
    return invalid("The grip of " + planned.callout + " is " + to_decimal_text(*planned.grip_uin / 1e6, 6) +
                   " in. Give the thickness of the whole stack, above 0 and at most 4 in.");
  }
  return {};
}

}  // namespace jigtime::journal
