// The entries, in either print order.
#include <algorithm>
#include <map>

#include "base/text.h"
#include "report/book_parts.h"
#include "report/words.h"

namespace jigtime::report {
namespace {

using journal::Span;

const Part everything{[](const Span&) { return true; }, [](SessionTime) { return true; }, true};

/// What the innermost work span at that moment is done on; empty where there is none, or it has no assembly.
std::string assembly_at(const BookGround& ground, const BookSession& session, SessionTime at) {
  const Span* found = nullptr;
  for (const Span& span : session.record.spans) {
    if (span.kind != journal::SpanKind::work || at < span.begin || at >= span.end) continue;
    if (found == nullptr || span.begin > found->begin) found = &span;
  }
  return found == nullptr ? "" : ground.assembly_path(found->task);
}

std::string assembly_of(const BookGround& ground, const Span& span) {
  return span.kind == journal::SpanKind::work ? ground.assembly_path(span.task) : std::string{};
}

/// Paths of assemblies on which there was work, in order; the empty one, for all the rest, last.
std::vector<std::string> worked_on(const BookGround& ground) {
  std::vector<std::string> paths;
  for (const BookSession* session : ground.printed) {
    for (const Span& span : session->record.spans) paths.push_back(assembly_of(ground, span));
  }
  std::sort(paths.begin(), paths.end());
  paths.erase(std::unique(paths.begin(), paths.end()), paths.end());
  std::erase(paths, "");
  paths.emplace_back();
  return paths;
}

/// Person-hours of all sessions up to and with each, by its place among all.
std::map<const BookSession*, Length> running_totals(const Book& book) {
  std::map<const BookSession*, Length> totals;
  Length sum{0};
  for (const BookSession& session : book.sessions) {
    sum += session.hours.person_time;
    totals[&session] = sum;
  }
  return totals;
}

/// What was done, in a few words, for the table of contents.
std::string tasks_in_short(const BookGround& ground, const BookSession& session) {
  std::vector<std::string> titles;
  for (const Span& span : session.record.spans) {
    if (span.kind != journal::SpanKind::work) continue;
    const std::string title = ground.task_title(span.task);
    if (std::find(titles.begin(), titles.end(), title) == titles.end()) titles.push_back(title);
  }
  if (titles.empty()) return "no work tagged";
  std::string text = titles.front();
  if (titles.size() > 1) text += " and " + std::to_string(titles.size() - 1) + " more";
  return text;
}

std::string heading_of(const BookGround& ground, const BookSession& session) {
  return ground.session_words(session) + (session.record.entry ? "" : ", not sealed") + ": " +
         tasks_in_short(ground, session);
}

}  // namespace

Blocks entries_by_date(const BookGround& ground) {
  const auto totals = running_totals(ground.book);
  Blocks blocks;
  std::chrono::year year{-32767};
  for (const BookSession* session : ground.printed) {
    const auto date = session->record.session.date;
    if (date.year() != year) {
      year = date.year();
      const std::string words = std::to_string(static_cast<int>(year));
      blocks.push_back(Heading{1, "Entries of " + words, "year-" + words});
    }
    blocks.push_back(Heading{2, heading_of(ground, *session), ground.anchor_of(*session)});
    append(blocks, work_blocks(ground, *session, everything));
    append(blocks, session_facts(ground, *session, totals.at(session)));
  }
  return blocks;
}

Blocks entries_by_assembly(const BookGround& ground) {
  Blocks blocks;
  int number = 0;
  for (const std::string& path : worked_on(ground)) {
    ++number;
    Blocks chapter;
    for (const BookSession* session : ground.printed) {
      const Part part{[&](const Span& span) { return assembly_of(ground, span) == path; },
                      [&](SessionTime at) { return assembly_at(ground, *session, at) == path; }, path.empty()};
      Blocks work = work_blocks(ground, *session, part);
      if (work.empty()) continue;
      const std::string anchor = "work-" + std::to_string(number) + "-" + to_text(session->record.session.date);
      chapter.push_back(Heading{2, ground.session_words(*session), anchor});
      append(chapter, std::move(work));
    }
    if (chapter.empty()) continue;
    blocks.push_back(
        Heading{1, path.empty() ? "Breaks, and work on no assembly" : path, "assembly-" + std::to_string(number)});
    append(blocks, std::move(chapter));
  }
  const auto totals = running_totals(ground.book);
  if (!ground.printed.empty()) blocks.push_back(Heading{1, "Sessions and their seals", "sessions"});
  for (const BookSession* session : ground.printed) {
    blocks.push_back(Heading{2, heading_of(ground, *session), ground.anchor_of(*session)});
    append(blocks, session_facts(ground, *session, totals.at(session)));
  }
  return blocks;
}

}  // namespace jigtime::report
