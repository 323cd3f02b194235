#include "report/span_words.h"

#include "report/words.h"

namespace jigtime::report {

using journal::Span;

std::string plan_words(const journal::Task& task) {
  std::string plan;
  if (!task.plan_sheet.empty()) plan = "sheet " + one_line(task.plan_sheet);
  if (!task.plan_step.empty()) plan += (plan.empty() ? "step " : ", step ") + one_line(task.plan_step);
  return plan;
}

std::string span_what(const journal::Register& known, const Span& span) {
  const journal::Task* task = span.task ? known.task(*span.task) : nullptr;
  if (task == nullptr) return span.kind == journal::SpanKind::pause ? "Break" : "Work without a task";
  std::string text = one_line(task->title);
  if (const std::string path = one_line(known.assembly_path(task->assembly)); !path.empty()) text += "\n" + path;
  if (const std::string plan = plan_words(*task); !plan.empty()) text += "\nPlans: " + plan;
  return text;
}

std::string span_fasteners(const Span& span) {
  std::string text;
  for (const journal::FastenerLine& line : span.fasteners) {
    text += (text.empty() ? "" : "\n") + one_line(line.callout) + ": " + std::to_string(line.set) + " " +
            (line.method == journal::Method::other ? "set" : std::string{to_text(line.method)});
    if (line.drilled > 0) text += ", of them " + std::to_string(line.drilled) + " drilled out again";
  }
  return text;
}

}  // namespace jigtime::report
