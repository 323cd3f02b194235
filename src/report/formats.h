// A session in open formats that other programs read. Each writer takes the same values as the page.
// Must never know: files to write to. Text in, text out; every text escaped as its format asks for.
// Begin reading at: session_json.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "report/chapters.h"
#include "report/report.h"

namespace jigtime::report {

/// RFC 4180. One row a span: from, to, kind, task, assembly, people, fasteners, note, as `jigtime tags --read` takes
/// them. Several people or fasteners in one cell are parted by semicolons.
std::string spans_csv(const Timeline& timeline);

/// RFC 4180. One row for each task and call-out that was set in the session or is planned for its tasks. `planned`,
/// `standing`, `left` and `over` are those of the whole build, and empty where only the session is known.
std::string fasteners_csv(const Timeline& timeline);

/// The whole record of the session as JSON (RFC 8259), in the shape of session_schema(). Times are seconds on the
/// session clock; folders of the footage are left out.
std::string session_json(const Timeline& timeline);
/// The JSON Schema (draft-07) of session_json: assets/session.schema.json.
std::string_view session_schema();

/// OpenTimelineIO, as its published schema has it: a track a camera for pictures and one for sound, gaps where nothing
/// was recorded, clips with their place, marks and spans as markers. Whole pictures of the timeline's rate, each cut
/// within one of them of the journal; a clip whose clock drifts is cut where the drift would grow beyond half a
/// picture.
std::string to_otio(const Timeline& timeline);

/// RFC 5545: one event, from the first work to the last.
std::string to_ics(const Timeline& timeline);

/// W3C WebVTT, kind chapters: the times are those of the file the chapters are for.
std::string to_vtt(const FileChapters& chapters);

/// FFMETADATA1 as the ffmpeg manual documents it, to be given to ffmpeg with the film.
std::string to_ffmetadata(const std::string& title, const std::vector<Chapter>& chapters);

}  // namespace jigtime::report
