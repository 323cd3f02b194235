#include "actions/tagging.h"
#include "actions/whole_file.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/open_journal.h"

namespace jigtime::cli {
namespace {

struct TagArguments {
  std::string journal;
  std::string session;
  std::string from;
  std::string to;
  std::string task;
  std::string assembly;
  std::vector<std::string> people;
  std::vector<std::string> fasteners;
  bool pause = false;
  std::string note;
};

Json tagged_json(const actions::Tagged& tagged) {
  Json json{{"spans", Json::array()}, {"created", Json::array()}};
  for (const journal::SpanId id : tagged.spans) json["spans"].push_back(id.value);
  for (const std::string& sentence : tagged.created) json["created"].push_back(sentence);
  return json;
}

Exit tell(Terminal& terminal, const actions::Tagged& tagged) {
  for (const std::string& sentence : tagged.created) terminal.note(sentence);
  terminal.say(std::to_string(tagged.spans.size()) + (tagged.spans.size() == 1 ? " span tagged." : " spans tagged."));
  terminal.print(tagged_json(tagged));
  return Exit::done;
}

Exit run_tag(Terminal& terminal, const TagArguments& arguments) {
  const auto from = time_of(arguments.from, "--from");
  if (!from) return terminal.fail(from.error());
  const auto to = time_of(arguments.to, "--to");
  if (!to) return terminal.fail(to.error());
  if (arguments.task.empty() && !arguments.pause) {
    return terminal.fail({Code::invalid, "Say what was done with --task TEXT, or that it was a break with --break."});
  }
  auto open = open_session(arguments.journal, arguments.session);
  if (!open) return terminal.fail(open.error());
  actions::SpanWords words{
      *from,          *to, arguments.pause, arguments.task, arguments.assembly, arguments.people, arguments.fasteners,
      arguments.note, 0};
  const auto tagged = actions::add_spans(open->store, open->session.id, {words});
  return tagged ? tell(terminal, *tagged) : terminal.fail(tagged.error());
}

struct TableArguments {
  std::string journal;
  std::string session;
  std::string file;
};

Exit run_tags(Terminal& terminal, const TableArguments& arguments) {
  const auto text = actions::read_text(arguments.file);
  if (!text) return terminal.fail(text.error());
  const auto spans = actions::read_tags(*text);
  if (!spans) return terminal.refuse(spans.error().during(arguments.file));
  auto open = open_session(arguments.journal, arguments.session);
  if (!open) return terminal.fail(open.error());
  const auto tagged = actions::add_spans(open->store, open->session.id, *spans);
  return tagged ? tell(terminal, *tagged) : terminal.refuse(tagged.error().during(arguments.file));
}

struct MarkArguments {
  std::string journal;
  std::string session;
  std::string at;
  std::string note;
  std::int64_t id = 0;
  std::int64_t copy = 0;
};

/// Moves a mark, or says it otherwise; what is not given stays.
Exit change_mark(Terminal& terminal, const MarkArguments& arguments, bool with_note) {
  auto open = open_session(arguments.journal, arguments.session);
  if (!open) return terminal.fail(open.error());
  const auto record = open->store.record(open->session.id);
  if (!record) return terminal.fail(record.error());
  journal::Mark mark{{arguments.id}, open->session.id, {}, {}};
  for (const journal::Mark& there : record->marks) {
    if (there.id == mark.id) mark = there;
  }
  if (!arguments.at.empty()) {
    const auto at = time_of(arguments.at, "--at");
    if (!at) return terminal.fail(at.error());
    mark.at = *at;
  }
  if (with_note) mark.note = arguments.note;
  const Done changed = actions::change_mark(open->store, open->session.id, mark.id, mark.at, mark.note);
  if (!changed) return terminal.fail(changed.error());
  terminal.say("Mark " + std::to_string(mark.id.value) + " at " + to_clock_text(mark.at) + ".");
  terminal.print({{"mark", mark.id.value}, {"at_s", to_seconds(mark.at)}});
  return Exit::done;
}

Exit copy_mark(Terminal& terminal, const MarkArguments& arguments, bool with_note) {
  if (arguments.at.empty() || with_note) {
    return terminal.fail(
        {Code::invalid,
         "A copy has the words of its mark and another moment: --copy N --at H:MM:SS. Change the words "
         "of the copy with --id afterwards."});
  }
  const auto at = time_of(arguments.at, "--at");
  if (!at) return terminal.fail(at.error());
  auto open = open_session(arguments.journal, arguments.session);
  if (!open) return terminal.fail(open.error());
  const auto mark = actions::copy_mark(open->store, open->session.id, {arguments.copy}, *at);
  if (!mark) return terminal.fail(mark.error());
  terminal.say("Mark " + std::to_string(arguments.copy) + " copied to " + to_clock_text(*at) + ": mark " +
               std::to_string(mark->value) + ".");
  terminal.print({{"mark", mark->value}, {"copy_of", arguments.copy}, {"at_s", to_seconds(*at)}});
  return Exit::done;
}

Exit run_mark(Terminal& terminal, const MarkArguments& arguments, bool with_id, bool with_note) {
  if (with_id) return change_mark(terminal, arguments, with_note);
  if (arguments.at.empty() || !with_note) {
    return terminal.fail({Code::invalid, "A new mark needs a moment and words: --at H:MM:SS --note TEXT."});
  }
  const auto at = time_of(arguments.at, "--at");
  if (!at) return terminal.fail(at.error());
  auto open = open_session(arguments.journal, arguments.session);
  if (!open) return terminal.fail(open.error());
  const auto mark = actions::add_mark(open->store, open->session.id, *at, arguments.note);
  if (!mark) return terminal.fail(mark.error());
  terminal.say("Mark set at " + to_clock_text(*at) + ".");
  terminal.print({{"mark", mark->value}, {"at_s", to_seconds(*at)}});
  return Exit::done;
}

}  // namespace

void add_tag_commands(Commands& commands) {
  auto& tag = commands.keep<TagArguments>();
  CLI::App* app = commands.add(
      "tag", "Tag a span: what was done, by whom, with which fasteners; or a break",
      "jigtime tag elevator.jigtime --session 2026-03-14 --from 0:05:00 --to 0:42:30 --task \"Rivet skin to ribs\" "
      "--person Mara --fastener MS20426AD3-4=58-2 --note \"two drilled out\"");
  app->add_option("JOURNAL", tag.journal, "The journal file")->required();
  app->add_option("--session", tag.session, "Day of the session, YYYY-MM-DD")->required();
  app->add_option("--from", tag.from, "H:MM:SS[.mmm] on the session clock")->required();
  app->add_option("--to", tag.to, "H:MM:SS[.mmm]; the span ends just before it")->required();
  app->add_option("--task", tag.task, "Title of the task; added if it is new");
  app->add_option("--assembly", tag.assembly, "Where a new task belongs, e.g. \"Tail / Elevator\"");
  app->add_option("--person", tag.people, "Who worked; may be repeated; added as a builder if new")
      ->take_all()
      ->expected(1);
  app->add_option("--fastener", tag.fasteners,
                  "CALLOUT=SET[-DRILLED][:METHOD], e.g. MS20426AD3-4=58-2:squeezed; may be repeated")
      ->take_all()
      ->expected(1);
  app->add_flag("--break", tag.pause, "A break: takes time from the people named, or from all");
  app->add_option("--note", tag.note, "Anything worth keeping");
  commands.run(app, [&tag](Terminal& terminal) { return run_tag(terminal, tag); });

  auto& table = commands.keep<TableArguments>();
  app = commands.add("tags", "Tag many spans at once from a table: all of them, or none if a row is wrong",
                     "jigtime tags elevator.jigtime --session 2026-03-14 --read saturday.csv\n\n"
                     "The first line of the table names its columns: from, to, and any of kind (work or break),\n"
                     "task, assembly, people, fasteners, note. Several people or fasteners are parted by a semicolon.");
  app->add_option("JOURNAL", table.journal, "The journal file")->required();
  app->add_option("--session", table.session, "Day of the session, YYYY-MM-DD")->required();
  app->add_option("--read", table.file, "CSV file")->required();
  commands.run(app, [&table](Terminal& terminal) { return run_tags(terminal, table); });

  auto& mark = commands.keep<MarkArguments>();
  app = commands.add(
      "mark", "Mark a moment to come back to; change or copy a mark",
      "jigtime mark elevator.jigtime --session 2026-03-14 --at 0:17:42 --note \"smoked rivet, look again\"\n"
      "  jigtime mark elevator.jigtime --session 2026-03-14 --copy 3 --at 0:31:05\n\n"
      "\"jigtime show\" prints the numbers. \"jigtime unmark\" takes a mark away.");
  app->add_option("JOURNAL", mark.journal, "The journal file")->required();
  app->add_option("--session", mark.session, "Day of the session, YYYY-MM-DD")->required();
  app->add_option("--at", mark.at, "H:MM:SS[.mmm] on the session clock");
  CLI::Option* note = app->add_option("--note", mark.note, "What is to be seen there");
  CLI::Option* id = app->add_option("--id", mark.id, "Number of a mark that is there: it is moved or said otherwise");
  CLI::Option* copy = app->add_option("--copy", mark.copy, "Number of a mark that is to stand at --at once more");
  copy->excludes(id);
  commands.run(app, [&mark, id, note, copy](Terminal& terminal) {
    if (copy->count() > 0) return copy_mark(terminal, mark, note->count() > 0);
    return run_mark(terminal, mark, id->count() > 0, note->count() > 0);
  });
}

}  // namespace jigtime::cli
