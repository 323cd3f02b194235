#include "report/pdf_update.h"

#include <doctest/doctest.h>

#include "report/outside.h"
#include "support/text.h"

using namespace jigtime;
using namespace jigtime::test;
using namespace jigtime::report;

namespace {

/// One page, as the drawing library writes it, with a picture named twice.
std::string one_page() {
  std::string file = "%PDF-1.4\n";
  std::vector<std::size_t> offsets;
  for (const char* object :
       {"<< /Type /Catalog /Pages 2 0 R /Dests << /there [ 3 0 R /XYZ 0 0 0 ] >> >>",
        "<< /Type /Pages /Kids [ 3 0 R ] /Count 1 >>",
        "<< /Type /Page % 1\n   /Parent 2 0 R\n   /MediaBox [ 0 0 100 100 ]\n   /Resources 4 0 R\n>>",
        "<<\n   /XObject << /x5 5 0 R /x5 5 0 R >>\n>>",
        "<< /Type /XObject /Subtype /Form /BBox [ 0 0 1 1 ] /Length 0 >>\nstream\n\nendstream"}) {
    offsets.push_back(file.size());
    file += std::to_string(offsets.size()) + " 0 obj\n" + object + "\nendobj\n";
  }
  const std::size_t table = file.size();
  file += "xref\n0 6\n0000000000 65535 f \n";
  for (const std::size_t offset : offsets) {
    const std::string digits = std::to_string(offset);
    file += std::string(10 - digits.size(), '0') + digits + " 00000 n \n";
  }
  return file + "trailer\n<< /Size 6\n   /Root 1 0 R\n>>\nstartxref\n" + std::to_string(table) + "\n%%EOF\n";
}

std::string checked_by_qpdf(const std::string& file) { return test::run_on("qpdf --check", file).output; }

}  // namespace

TEST_CASE("links and mended lists behind a file leave it without a fault for another reader") {
  const std::string file = one_page();
  CHECK(contains(checked_by_qpdf(file), "duplicated key"));
  PdfUpdate update;
  // However the bytes come.
  for (std::size_t i = 0; i < file.size(); i += 7) update.watch(std::string_view{file}.substr(i, 7));
  update.add(1, {10, 10, 50, 20, "th(e)re"});
  const std::string whole = file + update.text();
  const std::string said = checked_by_qpdf(whole);
  CHECK_MESSAGE(contains(said, "No syntax or stream encoding errors"), said);
  CHECK_FALSE(contains(said, "WARNING"));
  CHECK(contains(whole, "/Dest (th\\(e\\)re)"));
}

TEST_CASE("nothing is added to a file that needs nothing, or that is no PDF") {
  PdfUpdate idle;
  idle.watch(
      "%PDF-1.4\n1 0 obj\n<< /Type /Catalog >>\nendobj\ntrailer\n<< /Size 2 /Root 1 0 R >>\nstartxref\n9\n%%EOF\n");
  CHECK(idle.text().empty());
  PdfUpdate lost;
  lost.watch("no PDF at all");
  lost.add(1, {0, 0, 1, 1, "there"});
  CHECK(lost.text().empty());
}

TEST_CASE("a link on a page that is not there is left out") {
  PdfUpdate update;
  update.watch(one_page());
  update.add(7, {0, 0, 1, 1, "there"});
  CHECK_FALSE(contains(update.text(), "/Annots"));
}

TEST_CASE("a file with tagged text says in which language it is, and stays sound") {
  std::string file = one_page();
  const std::string plain = "<< /Type /Catalog /Pages 2 0 R /Dests << /there [ 3 0 R /XYZ 0 0 0 ] >> >>";
  // Of the same length, so that the table of objects stays right.
  file.replace(file.find(plain), plain.size(),
               "<< /Type /Catalog /Pages 2 0 R /StructTreeRoot <<                    >> >>");
  PdfUpdate update;
  update.watch(file);
  const std::string whole = file + update.text();
  CHECK(contains(update.text(), "/Lang (en)"));
  CHECK(contains(checked_by_qpdf(whole), "No syntax or stream encoding errors"));
}
