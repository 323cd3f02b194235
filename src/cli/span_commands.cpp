#include "actions/spans.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/open_journal.h"

namespace jigtime::cli {
namespace {

struct SpanArguments {
  std::string journal;
  std::string verb;
  std::string session;
  std::int64_t id = 0;
  std::int64_t with = 0;
  std::string at;
  std::string from;
  std::string to;
  std::string task;
  std::vector<std::string> people;
  std::vector<std::string> fasteners;
  std::string note;
  CLI::Option* task_given = nullptr;
  CLI::Option* people_given = nullptr;
  CLI::Option* fasteners_given = nullptr;
  CLI::Option* note_given = nullptr;
};

/// Nothing where the option was left out.
Result<std::optional<SessionTime>> maybe_time(const std::string& text, std::string_view option) {
  if (text.empty()) return std::optional<SessionTime>{};
  const auto time = time_of(text, option);
  if (!time) return time.error();
  return std::optional{*time};
}

actions::SpanChange change_of(const SpanArguments& arguments) {
  actions::SpanChange change;
  if (arguments.task_given->count() > 0) change.task = arguments.task;
  if (arguments.people_given->count() > 0) change.people = arguments.people;
  if (arguments.fasteners_given->count() > 0) change.fasteners = arguments.fasteners;
  if (arguments.note_given->count() > 0) change.note = arguments.note;
  return change;
}

/// The span that the verb made, the one it changed, or why not.
Result<journal::SpanId> run_verb(OpenSession& open, const SpanArguments& arguments) {
  const journal::SessionId session = open.session.id;
  const journal::SpanId id{arguments.id};
  const auto from = maybe_time(arguments.from, "--from");
  if (!from) return from.error();
  const auto to = maybe_time(arguments.to, "--to");
  if (!to) return to.error();
  const auto same = [&](const Done& done) { return done ? Result<journal::SpanId>{id} : done.error(); };
  if (arguments.verb == "split") {
    const auto at = time_of(arguments.at, "--at");
    return at ? actions::split_span(open.store, session, id, *at) : at.error();
  }
  if (arguments.verb == "trim") {
    if (!*from && !*to) return Error{Code::invalid, "Say with --from or --to where the span is to begin or end."};
    return same(actions::trim_span(open.store, session, id, *from, *to));
  }
  if (arguments.verb == "join") {
    if (arguments.with == 0) return Error{Code::invalid, "Say with --with N which span joins it."};
    return same(actions::join_spans(open.store, session, id, {arguments.with}));
  }
  if (arguments.verb == "delete") return same(actions::delete_span(open.store, session, id));
  if (arguments.verb == "copy") return actions::copy_span(open.store, session, id, *from, *to);
  return same(actions::change_span(open.store, session, id, change_of(arguments)));
}

Exit run_span(Terminal& terminal, const SpanArguments& arguments) {
  auto open = open_session(arguments.journal, arguments.session);
  if (!open) return terminal.fail(open.error());
  const auto span = run_verb(*open, arguments);
  if (!span) return terminal.fail(span.error());
  const bool fresh = arguments.verb == "split" || arguments.verb == "copy";
  terminal.say("Span " + std::to_string(arguments.id) + ": " + arguments.verb +
               (fresh ? ", the new one is span " + std::to_string(span->value) + "." : "."));
  terminal.print({{"verb", arguments.verb}, {"id", arguments.id}, {"span", span->value}});
  return Exit::done;
}

struct UnmarkArguments {
  std::string journal;
  std::string session;
  std::int64_t id = 0;
};

Exit run_unmark(Terminal& terminal, const UnmarkArguments& arguments) {
  auto open = open_session(arguments.journal, arguments.session);
  if (!open) return terminal.fail(open.error());
  if (const Done done = actions::delete_mark(open->store, open->session.id, {arguments.id}); !done) {
    return terminal.fail(done.error());
  }
  terminal.say("Mark " + std::to_string(arguments.id) + " deleted.");
  terminal.print({{"mark", arguments.id}});
  return Exit::done;
}

}  // namespace

void add_span_commands(Commands& commands) {
  auto& span = commands.keep<SpanArguments>();
  CLI::App* app = commands.add(
      "span", "Split, trim, join, copy, change or delete a span",
      "jigtime span elevator.jigtime split --session 2026-03-14 --id 7 --at 0:31:00\n"
      "  jigtime span elevator.jigtime join --session 2026-03-14 --id 7 --with 8\n\n"
      "\"jigtime show\" prints the numbers. What was set and noted stays with the first part of a split.\n"
      "Several tasks at once are several spans over the same time; 'hours' gives a shared minute to the inner one.");
  app->add_option("JOURNAL", span.journal, "The journal file")->required();
  app->add_option("VERB", span.verb, "split, trim, join, copy, change or delete")
      ->required()
      ->check(CLI::IsMember({"split", "trim", "join", "copy", "change", "delete"}));
  app->add_option("--session", span.session, "Day of the session, YYYY-MM-DD")->required();
  app->add_option("--id", span.id, "Number of the span")->required();
  app->add_option("--at", span.at, "split: where, H:MM:SS[.mmm]");
  app->add_option("--with", span.with, "join: number of the other span");
  app->add_option("--from", span.from, "trim, copy: new beginning");
  app->add_option("--to", span.to, "trim, copy: new end; a copy lasts to the next span if left out");
  span.task_given = app->add_option("--task", span.task, "change: title of the task");
  span.people_given =
      app->add_option("--person", span.people, "change: who worked; may be repeated")->take_all()->expected(1);
  span.fasteners_given = app->add_option("--fastener", span.fasteners, "change: CALLOUT=SET[-DRILLED]; may be repeated")
                             ->take_all()
                             ->expected(1);
  span.note_given = app->add_option("--note", span.note, "change: the note");
  commands.run(app, [&span](Terminal& terminal) { return run_span(terminal, span); });

  auto& unmark = commands.keep<UnmarkArguments>();
  app = commands.add("unmark", "Delete a mark", "jigtime unmark elevator.jigtime --session 2026-03-14 --id 3");
  app->add_option("JOURNAL", unmark.journal, "The journal file")->required();
  app->add_option("--session", unmark.session, "Day of the session, YYYY-MM-DD")->required();
  app->add_option("--id", unmark.id, "Number of the mark")->required();
  commands.run(app, [&unmark](Terminal& terminal) { return run_unmark(terminal, unmark); });
}

}  // namespace jigtime::cli
