#include "store/schema_private.h"

namespace jigtime::store {

const std::vector<std::string>& migrations() {
  static const std::vector<std::string> steps{to_format_1(), to_format_2(), to_format_3(), to_format_4()};
  return steps;
}

const std::vector<std::string_view>& record_tables() {
  static const std::vector<std::string_view> tables{"build",
                                                    "person",
                                                    "assembly",
                                                    "checklist",
                                                    "checklist_line",
                                                    "task",
                                                    "planned",
                                                    "camera",
                                                    "session",
                                                    "clip",
                                                    "clip_note",
                                                    "part",
                                                    "clock_reading",
                                                    "unreadable",
                                                    "placement",
                                                    "piece",
                                                    "evidence",
                                                    "placement_note",
                                                    "camera_clock",
                                                    "tie",
                                                    "span",
                                                    "span_person",
                                                    "span_fastener",
                                                    "mark",
                                                    "proposal",
                                                    "inspection",
                                                    "inspection_clearing",
                                                    "item",
                                                    "item_closing",
                                                    "photo",
                                                    "still",
                                                    "let_go",
                                                    "entry",
                                                    "amendment",
                                                    "signature"};
  return tables;
}

}  // namespace jigtime::store
