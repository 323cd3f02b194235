#include "report/press.h"

namespace jigtime::report {

Done write_pdf(const Document& document, const Sink& sink) {
  const Size page = document.format == Format::portrait ? Size{595.28, 841.89} : Size{841.89, 595.28};
  const PageNumbers unknown;
  PageNumbers numbers;
  const auto type_case = std::make_shared<TypeCase>();
  {
    const auto nowhere = Canvas::pdf(page, {}, type_case);
    numbers = Press{*nowhere, document, unknown, Pass::measure}.run();
    if (Done finished = nowhere->finish(); !finished) return finished;
  }
  const auto canvas = Canvas::pdf(page, sink, type_case);
  canvas->describe(document);
  Press{*canvas, document, numbers, Pass::print}.run();
  return canvas->finish();
}

}  // namespace jigtime::report
