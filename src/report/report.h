// What leaves the journal. Everything is built once as values, then written by several writers.
// Must never know: files to write to, SQLite, media. Text in, text out.
// Begin reading at: Timeline.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "journal/fasteners.h"
#include "journal/hours.h"
#include "journal/values.h"

namespace jigtime::report {

/// All that the page of one session shows.
struct Timeline {
  journal::Build build;
  journal::Register known;
  journal::SessionRecord record;
  journal::Hours hours;
  std::map<journal::MarkId, std::vector<std::uint8_t>> stills;  ///< JPEG; a mark may have none
  /// Planned against set over all sessions so far. Empty: the page then shows what this session set and what is
  /// planned, and says that only the whole journal tells what is left.
  std::vector<journal::FastenerBalance> build_balance;
  WallTime made{};  ///< when it leaves the journal; stands in the calendar event and in the PDF
};

/// One self-contained page: lanes a camera with dropouts hatched and doubt shown, spans, marks with stills, fasteners,
/// hours. Well-formed XML, readable without script, offline; every text escaped. Its generator line names Jigtime.
std::string to_html(const Timeline& timeline);

/// RFC 4180, UTF-8 with CRLF and a header line: date, task, assembly, person, role, seconds, hours. Seconds are whole
/// ones of the time as kept, hours are rounded by the journal's rule; the rows of each column add up to its total.
std::string hours_csv(const std::vector<journal::Session>& sessions, const journal::Register& known,
                      const journal::Hours& hours, journal::Rounding rounding);

/// The columns of a table that runs over many sealed sessions: entry, digest, then those of hours_csv.
inline constexpr std::string_view sealed_hours_header = "entry,digest,date,task,assembly,person,role,seconds,hours";
/// One sealed session's rows of that table, as hours_csv rounds them, without the header line.
std::string sealed_hours_rows(const journal::Entry& entry, const journal::Session& session,
                              const journal::Register& known, const journal::Hours& hours, journal::Rounding rounding);

/// One field, quoted where RFC 4180 asks for it; a leading = + - @ (or tab, return, line feed) gets an apostrophe in
/// front so that no spreadsheet runs it.
std::string csv_field(std::string_view text);

/// For element content and quoted attribute values. Whatever the bytes, the result is well-formed XML text: what is not
/// UTF-8, no XML character, or would turn the direction of the text after it becomes U+FFFD, control characters a
/// blank.
std::string html_escaped(std::string_view text);

}  // namespace jigtime::report
