#include "report/book.h"

#include "base/text.h"
#include "handbook/callout.h"
#include "report/book_parts.h"
#include "report/clean.h"
#include "report/words.h"

namespace jigtime::report {
namespace {

std::string days_of(const BookGround& ground) {
  const Book& book = ground.book;
  if (ground.printed.empty()) return "no sessions";
  const std::string first = day_words(book.from ? *book.from : ground.printed.front()->record.session.date);
  const std::string last = day_words(book.until ? *book.until : ground.printed.back()->record.session.date);
  return first == last ? first : first + " to " + last;
}

std::string local_words(WallTime time, Length local) {
  const std::string text = to_text(time + local);  // RFC 3339, with a Z that is not meant here
  return text.substr(0, 10) + ", " + text.substr(11, 5);
}

void add(std::vector<Fact>& facts, std::string name, std::string value) {
  if (!value.empty()) facts.push_back({std::move(name), std::move(value)});
}

std::vector<Paragraph> notice_of() {
  return {{"What this book is, and what it is not", Voice::strong},
          {"Records of the builder: who worked, when, where and how, with pictures, in order. Sealed entries are as "
           "they were "
           "sealed; later corrections stand beside them as amendments, with their reason."},
          {"It approves nothing. The plans, the kit maker's instructions, local rules and licensed people decide. "
           "Findings are "
           "the authority's. Hours are no measure of who made the major portion; tasks are."},
          {std::string{handbook::caution}, Voice::small},
          {"Riveting is loud and throws chips: wear hearing and eye protection.", Voice::small}};
}

TitlePage title_page(const BookGround& ground) {
  const Book& book = ground.book;
  TitlePage page;
  page.over = "Log book of the builder";
  page.title = one_line(clean(book.build.name));
  if (!book.build.registration.empty()) page.lines.push_back(one_line(clean(book.build.registration)));
  page.lines.push_back(days_of(ground));
  Length in_book{0};
  std::size_t sealed = 0;
  for (const BookSession* session : ground.printed) {
    in_book += session->hours.person_time;
    sealed += session->record.entry ? 1U : 0U;
  }
  Length in_all{0};
  for (const BookSession& session : book.sessions) in_all += session.hours.person_time;
  add(page.facts, "Place", one_line(clean(book.build.place)));
  add(page.facts, "Order", book.order == BookOrder::by_date ? "by date" : "by assembly");
  add(page.facts, "Sessions",
      std::to_string(ground.printed.size()) + ", of them " + std::to_string(sealed) + " sealed");
  add(page.facts, "Person-hours", ground.hours_text(in_book));
  if (in_all != in_book) add(page.facts, "With all before", ground.hours_text(in_all));
  add(page.facts, "Rules", one_line(clean(book.regime)));
  if (!book.chain.empty()) {
    add(page.facts, "Last digest",
        "entry " + std::to_string(book.chain.back().number) + ", SHA-256\n" + book.chain.back().digest);
  }
  add(page.facts, "Made", local_words(book.made, book.made_local) + " local time, from the journal by Jigtime");
  page.notice = notice_of();
  return page;
}

}  // namespace

Document book_document(const Book& book) {
  const BookGround ground{book};
  Document document;
  const std::string name = one_line(clean(book.build.name));
  document.title = name + ", log book of the builder";
  document.subject = "Records of the builder. Findings are the authority's.";
  document.head = name + (book.build.registration.empty() ? "" : ", " + one_line(clean(book.build.registration))) +
                  ": log book of the builder, " + days_of(ground);
  document.made = to_text(book.made);
  document.picture = [&book](const Picture& picture) -> std::vector<std::uint8_t> {
    if (picture.kind == PictureKind::photo) {
      return book.photo ? book.photo(journal::PhotoId{picture.key}) : std::vector<std::uint8_t>{};
    }
    return book.still ? book.still(journal::StillId{picture.key}) : std::vector<std::uint8_t>{};
  };
  document.blocks.push_back(title_page(ground));
  document.blocks.push_back(Heading{1, "Contents", ""});
  document.blocks.push_back(Contents{});
  document.blocks.push_back(PageBreak{});
  append(document.blocks, people_part(ground));
  if (ground.printed.empty()) {
    document.blocks.push_back(Paragraph{"There is no session in these days."});
  } else {
    document.blocks.push_back(PageBreak{});
  }
  append(document.blocks, book.order == BookOrder::by_date ? entries_by_date(ground) : entries_by_assembly(ground));
  document.blocks.push_back(PageBreak{});
  append(document.blocks, hours_part(ground));
  append(document.blocks, fasteners_part(ground));
  append(document.blocks, items_part(ground));
  append(document.blocks, inspections_part(ground));
  append(document.blocks, checklists_part(ground));
  document.blocks.push_back(PageBreak{});
  append(document.blocks, seals_part(ground));
  return document;
}

}  // namespace jigtime::report
