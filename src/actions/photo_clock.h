// When a photo was taken on the session clock, by the clock of the device that took it.
// Pure: no files, no store.
#pragma once

#include <optional>
#include <string>

#include "actions/zone.h"
#include "journal/values.h"

namespace jigtime::actions {

struct PhotoMoment {
  SessionTime at;
  Length sigma{0};   ///< standard error, honest about what is not known
  std::string note;  ///< a whole sentence where the builder should know more, else empty
};

/// `camera` is the device's name in the journal, whose clips tell how wrong its clock was: the clip nearest to the
/// photo counts, since a clock may be set anew between two of them, with the doubt of its placement (wide where that
/// rests on the clock alone). Without such clips the device's clock is taken as it stands, with a wide doubt and a
/// note. Nothing where the photo has no date or no clock has told the session's time of day.
std::optional<PhotoMoment> photo_moment(const journal::SessionRecord& record, const journal::Camera* camera,
                                        const std::optional<ClockReading>& taken, const Zone& zone);

}  // namespace jigtime::actions
