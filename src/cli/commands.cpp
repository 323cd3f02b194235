#include "cli/commands.h"

#include "base/text.h"

namespace jigtime::cli {

CLI::App* Commands::add(const std::string& name, const std::string& what, const std::string& example) {
  CLI::App* app = parser_.add_subcommand(name, what);
  app->footer("Example:\n  " + example + "\n");
  app->add_flag("--json", json_, "Print one JSON document instead of text");
  return app;
}

Result<std::chrono::year_month_day> date_of(const std::string& text) {
  if (const auto date = parse_date(text)) return *date;
  return Error{Code::invalid, "\"" + text + "\" is no date of the form YYYY-MM-DD, for example 2026-03-14."};
}

Result<SessionTime> time_of(const std::string& text, std::string_view option) {
  if (const auto time = parse_clock_text(text)) return SessionTime{*time};
  return Error{Code::invalid, std::string{option} + ": \"" + text +
                                  "\" is no time of the form H:MM:SS or H:MM:SS.mmm, for example 0:12:30.500."};
}

}  // namespace jigtime::cli
