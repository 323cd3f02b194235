#include "actions/book.h"
#include "cli/commands.h"
#include "cli/open_journal.h"

namespace jigtime::cli {
namespace {

struct BookArguments {
  std::string journal;
  std::string file;
  std::string from;
  std::string until;
  std::string order = "date";
};

Exit run_book(Terminal& terminal, const BookArguments& arguments) {
  actions::BookAsked asked;
  asked.file = arguments.file;
  asked.order = arguments.order == "assembly" ? actions::PrintOrder::by_assembly : actions::PrintOrder::by_date;
  for (auto [text, field] : {std::pair{&arguments.from, &asked.from}, std::pair{&arguments.until, &asked.until}}) {
    if (text->empty()) continue;
    const auto date = date_of(*text);
    if (!date) return terminal.fail(date.error());
    *field = *date;
  }
  const auto store = open_journal(arguments.journal);
  if (!store) return terminal.fail(store.error());
  const auto made = actions::write_book(*store, asked, std::chrono::system_clock::now(), terminal.watch());
  if (!made) return terminal.fail(made.error());
  terminal.say("Wrote " + shown(arguments.file) + ": " + std::to_string(made->sessions) +
               (made->sessions == 1 ? " session, of them " : " sessions, of them ") + std::to_string(made->sealed) +
               " sealed.");
  if (made->sessions == 0) {
    terminal.say(asked.from || asked.until ? "No session lies in these days: the book has no entries."
                                           : "The journal has no session yet: the book has no entries.");
  }
  Json faults = Json::array();
  for (const std::string& fault : made->faults) {
    faults.push_back(shown(fault));
    terminal.say(shown(fault));
  }
  terminal.say("The book is your record. Findings are the authority's.");
  terminal.print(
      {{"file", shown(arguments.file)}, {"sessions", made->sessions}, {"sealed", made->sealed}, {"faults", faults}});
  return made->faults.empty() ? Exit::done : Exit::needs_builder;
}

}  // namespace

void add_book_commands(Commands& commands) {
  auto& book = commands.keep<BookArguments>();
  CLI::App* app = commands.add(
      "book", "Print the log book, as PDF or HTML",
      "jigtime book elevator.jigtime --to book.pdf\n"
      "  jigtime book elevator.jigtime --to wing.html --from 2026-01-01 --until 2026-06-30 --order assembly");
  app->add_option("JOURNAL", book.journal, "The journal file")->required();
  app->add_option("--to", book.file, "The book's file; .pdf or .html says what it becomes")->required();
  app->add_option("--from", book.from, "First day, YYYY-MM-DD; totals before it are brought forward");
  app->add_option("--until", book.until, "Last day, YYYY-MM-DD");
  app->add_option("--order", book.order, "date, or assembly: the same record either way")
      ->check(CLI::IsMember({"date", "assembly"}));
  commands.run(app, [&book](Terminal& terminal) { return run_book(terminal, book); });
}

}  // namespace jigtime::cli
