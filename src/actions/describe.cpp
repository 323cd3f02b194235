#include "actions/describe.h"

#include "actions/spoken.h"
#include "base/text.h"

namespace jigtime::actions {

namespace {

std::string impossible(sync::Impossible why, const std::string& clip, const std::string& other) {
  switch (why) {
    case sync::Impossible::at_once:
      return "one camera would have filmed " + clip + " and " + other +
             " at once; if they are of two cameras, import them as two";
    case sync::Impossible::order:
      return "one camera would have filmed " + clip + " and " + other +
             " in another order than their names and times say, or without the time for what lies between them";
    case sync::Impossible::two_clocks:
      return "the clocks of two cameras would have gone wrong by the same time at once, one of them between " + clip +
             " and " + other;
  }
  return {};
}

/// At which moment of the clip something is missing, or between which.
std::string place_of(const sync::Note& note) {
  const auto text = [](ClipTime t) { return to_clock_text(t.time_since_epoch()); };
  if (note.loose == Length{0}) return "at " + text(note.clip_at) + " into the clip";
  return "somewhere between " + text(note.clip_at - note.loose) + " and " + text(note.clip_at + note.loose) +
         " into the clip";
}

template <class NameOf>
std::string dropout(const sync::Note& note, const NameOf& name_of) {
  if (note.length < Length{0}) return spoken(-note.length) + " were recorded twice " + place_of(note) + ".";
  const std::string missing = spoken(note.length) + " are missing " + place_of(note);
  const std::string least = spoken(note.length) + " or more are missing " + place_of(note);
  const std::string both = name_of(note.clash) + " and " + name_of(note.clash_2);
  const std::string know_better = "Place a clip there by hand if you know better.";
  switch (note.supposed) {
    case sync::Note::Supposed::joins:
      return missing +
             ", where two of its parts meet: no other clip tells, but as much is missing where others of its parts "
             "meet.";
    case sync::Note::Supposed::at_once:
      return "Perhaps " + least + ", where no other clip heard it: as they lie, one camera would have filmed " + both +
             " at once for so long. What lies on one side of it may be off by as much. " + know_better;
    case sync::Note::Supposed::clock:
      return "Perhaps " + missing +
             ", where no other clip heard it: by their camera's clock so much more passed between " + both +
             " than as they lie. Unless that clock was set in between, what lies on one side of it is off by as "
             "much. " +
             know_better;
    case sync::Note::Supposed::no: break;
  }
  if (note.loose == Length{0}) return missing + ".";
  return missing + ": nothing was heard in between that tells where, so that stretch may be off by as much.";
}

}  // namespace

std::string describe(const sync::Note& note, const std::vector<journal::Clip>& clips, Length zero_shift) {
  using Kind = sync::Note::Kind;
  const auto name_of = [&](int index) {
    return index >= 0 && index < static_cast<int>(clips.size()) ? clips[static_cast<std::size_t>(index)].name()
                                                                : "another clip";
  };
  const auto at = [&](SessionTime t) {
    if (!note.beside_other) return "at " + to_clock_text(t + zero_shift);
    const Length after = t.time_since_epoch();
    return to_clock_text(std::chrono::abs(after)) + (after < Length{0} ? " before " : " after ") + "the beginning of " +
           name_of(note.other);
  };
  switch (note.kind) {
    case Kind::two_places:
      return "Its sound fits equally well " + at(note.at) + " and " + at(note.at_2) +
             ", so it was not placed by sound. Place it by hand where it belongs.";
    case Kind::no_common_sound: return "It has no sound in common with any other clip.";
    case Kind::too_short: return "There is too little sound in it to prove where it belongs.";
    case Kind::silent: return "There is nothing but silence in it.";
    case Kind::no_sound: return "It has no sound.";
    case Kind::dropout: return dropout(note, name_of);
    case Kind::dropout_in_either:
      return spoken(std::chrono::abs(note.length)) + " are missing at " +
             to_clock_text(note.clip_at.time_since_epoch()) + " into the clip, or in " + name_of(note.other) +
             " at the same moment: the sound cannot tell which.";
    case Kind::clock_reset: return "The camera's clock was reset before this clip.";
    case Kind::clock_wrong: return "The camera's clock is off by " + spoken(note.length) + ".";
    case Kind::manual_disagrees: return "It was placed by hand; its sound says that it begins " + at(note.at) + ".";
    case Kind::unconnected:
      return "It shares sound with some clips, but none of them with the rest of the session: where they lie was told "
             "by clocks.";
    case Kind::adrift:
      return "It shares sound with " + name_of(note.other) +
             ", but neither sound nor a clock tells where they lie in the session. Place one of them by hand: the "
             "other follows.";
    case Kind::not_then:
      return "Its sound fits that of " + name_of(note.other) + ", so that it would begin " + at(note.at) +
             ". But then " + impossible(note.why, name_of(note.clash), name_of(note.clash_2)) +
             ". So it was not placed by sound. Place it by hand if it belongs there.";
    case Kind::perhaps_then:
      return "Its sound fits that of " + name_of(note.other) + ", so that it would begin " + at(note.at) +
             ". But what both heard may be a song of two days, or too little of what either heard, and no clocks bear "
             "it out. So it was not placed by sound. Place it by hand if it belongs there.";
    case Kind::parts_company: {
      const std::string moment = to_clock_text(note.clip_at.time_since_epoch()) + " of the clip";
      return (note.before ? "Up to " + moment : "From " + moment + " on") + ", it and " + name_of(note.other) +
             " do not hear the same. If one of them was only carried away, all is well; if one stopped for a while, "
             "that part lies elsewhere: tie the two there by a moment that both show.";
    }
    case Kind::clock_at_once:
      return "By the times that its file and that of " + name_of(note.other) +
             " carry, one camera would have filmed both at once, so it was not placed by them. Place it by hand where "
             "it belongs.";
  }
  return {};
}

}  // namespace jigtime::actions
