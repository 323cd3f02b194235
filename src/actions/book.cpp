#include "actions/book.h"

#include <algorithm>
#include <fstream>
#include <map>
#include <memory>
#include <system_error>

#include "actions/checklists.h"
#include "actions/photo_pictures.h"
#include "actions/regimes.h"
#include "actions/tally.h"
#include "actions/whole_file.h"
#include "actions/zone.h"
#include "base/text.h"
#include "journal/seal.h"
#include "journal/sealed_facts.h"
#include "report/book.h"
#include "store/digest.h"
#include "store/signing.h"

namespace jigtime::actions {
namespace {

namespace fs = std::filesystem;

enum class Kind { pdf, html };

std::string lowered(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; });
  return text;
}

Result<Kind> kind_of(const fs::path& file) {
  const std::string ending = lowered(file.extension().string());
  if (ending == ".pdf") return Kind::pdf;
  if (ending == ".html" || ending == ".htm") return Kind::html;
  return Error{Code::invalid,
               "\"" + to_utf8(file.string()) +
                   "\": the file's ending says what the book becomes. Use .pdf to print it or .html to read it."};
}

/// The last line of a book, a comment in either format.
std::string seal_line(Kind kind, const std::string& digest) {
  return kind == Kind::pdf ? "%jigtime-book " + digest + "\n" : "<!--jigtime-book " + digest + "-->\n";
}

Error not_ours(const fs::path& file, const std::string& why) {
  return {Code::conflict,
          "\"" + to_utf8(file.string()) + "\" is there already and " + why + " Move it away, or choose another name."};
}

/// Ours and unchanged, or not there.
Done check_free(const fs::path& file, Kind kind) {
  std::error_code ignored;
  const fs::file_status status = fs::symlink_status(file, ignored);
  if (!fs::exists(status)) return {};
  if (!fs::is_regular_file(status)) return not_ours(file, "is no plain file.");
  std::ifstream there{file, std::ios::binary};
  const std::size_t line_size = seal_line(kind, std::string(64, '0')).size();
  std::string tail;
  store::Sha256 digest;
  std::string block(1 << 16, '\0');
  while (there.read(block.data(), static_cast<std::streamsize>(block.size())) || there.gcount() > 0) {
    tail.append(block, 0, static_cast<std::size_t>(there.gcount()));
    if (tail.size() <= line_size) continue;
    digest.add(std::string_view{tail}.substr(0, tail.size() - line_size));
    tail.erase(0, tail.size() - line_size);
  }
  const std::string mark = seal_line(kind, "");
  if (tail.substr(0, mark.find("book ") + 5) != mark.substr(0, mark.find("book ") + 5)) {
    return not_ours(file, "is no book that Jigtime wrote.");
  }
  if (tail != seal_line(kind, digest.hex())) return not_ours(file, "was changed since Jigtime wrote it.");
  return {};
}

Done check_asked(const BookAsked& asked) {
  if (!asked.from || !asked.until || *asked.until >= *asked.from) return {};
  return Error{Code::invalid, "The last day (" + to_text(*asked.until) + ") lies before the first (" +
                                  to_text(*asked.from) + "). Swap --from and --until."};
}

/// What is read once.
Done read_ground(const store::Store& store, report::Book& book) {
  auto build = store.build();
  if (!build) return build.error();
  book.build = *std::move(build);
  auto known = store.known();
  if (!known) return known.error();
  book.known = *std::move(known);
  auto items = store.items();
  if (!items) return items.error();
  book.items = *std::move(items);
  auto inspections = store.inspections();
  if (!inspections) return inspections.error();
  book.inspections = *std::move(inspections);
  auto chain = store.entries();
  if (!chain) return chain.error();
  book.chain = *std::move(chain);
  auto signatures = store.signatures();
  if (!signatures) return signatures.error();
  book.signatures = *std::move(signatures);
  return {};
}

Done read_lists(const store::Store& store, report::Book& book) {
  for (const journal::Checklist& list : book.known.checklists) {
    auto view = view_checklist(store, list.name);
    if (!view) return view.error();
    std::vector<std::string> sentences = std::move(view->sentences);
    sentences.push_back(view->caution);
    book.checklists.push_back({list.id, std::move(sentences)});
  }
  return {};
}

/// The chain by itself and its signatures; entries are held against their records as these are read.
void check_chain(report::Book& book) {
  if (const auto fault = journal::first_fault(book.chain, store::sha256_hex)) book.faults.push_back(fault->what);
  std::map<int, std::string> digests;
  for (const journal::Entry& entry : book.chain) digests[entry.number] = entry.digest;
  for (const journal::Signature& signature : book.signatures) {
    const auto digest = digests.find(signature.number);
    if (digest != digests.end() && store::is_signed(signature.public_key, digest->second, signature.signature))
      continue;
    book.faults.push_back("A signature beside entry " + std::to_string(signature.number) +
                          " was not made for it by the key it names.");
  }
}

/// Counted for those whom names were merged into; the record itself keeps the names it was written with.
journal::Hours hours_of(const journal::SessionRecord& record, const journal::Register& known) {
  journal::SessionRecord counted;
  counted.session = record.session;
  counted.spans = record.spans;
  counted.placements = record.placements;
  name_what_is_meant(counted, known);
  return journal::count_hours(counted);
}

Done read_sessions(const store::Store& store, const BookAsked& asked, const Watch& watch, report::Book& book) {
  const auto sessions = store.sessions();
  if (!sessions) return sessions.error();
  const auto zone = Zone::find(book.build.zone.empty() ? "UTC" : book.build.zone);
  const auto local = [&](WallTime time) { return zone ? zone->offset_at(time) : Length{0}; };
  book.made_local = local(book.made);
  for (const journal::Session& session : *sessions) {
    if (watch.stop.stop_requested()) return Error{Code::cancelled, "The book was stopped. No file was written."};
    if (asked.until && session.date > *asked.until) continue;
    watch.tell(static_cast<double>(book.sessions.size()) / static_cast<double>(sessions->size()),
               "reading " + to_text(session.date));
    auto record = store.record(session.id);
    if (!record) return record.error();
    if (record->entry) {
      auto comparison = journal::compare(*record->entry, book.build, book.known, *record);
      if (comparison.fault) book.faults.push_back(std::move(*comparison.fault));
    }
    journal::Hours hours = hours_of(*record, book.known);
    record->proposals.clear();
    // The chain has the entry's text already.
    if (record->entry) record->entry->text.clear();
    report::BookSession printed{*std::move(record), std::move(hours)};
    if (session.zero && zone) {
      printed.local = local(*session.zero);
      const WallTime next = zone->next_change(*session.zero);
      printed.change = report::ClockChange{next, local(next)};
    }
    book.sessions.push_back(std::move(printed));
  }
  return {};
}

/// Bytes into the file and under its digest.
class BookFile {
 public:
  BookFile(PartFile file, const Watch& watch) : file_{std::move(file)}, watch_{watch} {}

  Done take(std::string_view bytes) {
    if (watch_.stop.stop_requested()) return Error{Code::cancelled, "The book was stopped. No file was written."};
    // The drawing library hands over a few bytes at a time.
    constexpr std::size_t handful = 1 << 20;
    gathered_ += bytes;
    return gathered_.size() < handful ? Done{} : pass_on();
  }
  Done finish(Kind kind) {
    if (Done passed = pass_on(); !passed) return passed;
    if (Done written = file_.write(seal_line(kind, digest_.hex())); !written) return written;
    if (Done finished = file_.finish(); !finished) return finished;
    return file_.take_place();
  }

 private:
  Done pass_on() {
    digest_.add(gathered_);
    const Done written = file_.write(gathered_);
    gathered_.clear();
    return written;
  }

  PartFile file_;
  std::string gathered_;
  store::Sha256 digest_;
  const Watch& watch_;
};

/// The journal knows where photos are, not what is there now.
void show_photos(report::Book& book, const BookAsked& asked, const Watch& watch) {
  auto photos = std::make_shared<std::map<journal::PhotoId, const journal::Photo*>>();
  for (const report::BookSession& session : book.sessions) {
    if (asked.from && session.record.session.date < *asked.from) continue;
    for (const journal::Photo& photo : session.record.photos) {
      if (watch.stop.stop_requested()) return;
      (*photos)[photo.id] = &photo;
      if (std::string why = why_not_shown(photo); !why.empty()) book.photos_not_shown[photo.id] = std::move(why);
    }
  }
  book.photo = [photos](journal::PhotoId id) -> std::vector<std::uint8_t> {
    const auto photo = photos->find(id);
    auto jpeg = photo == photos->end() ? Result<std::vector<std::uint8_t>>{std::vector<std::uint8_t>{}}
                                       : small_photo(*photo->second);
    return jpeg ? *std::move(jpeg) : std::vector<std::uint8_t>{};
  };
}

BookMade summary_of(const report::Book& book, const BookAsked& asked) {
  BookMade made;
  for (const report::BookSession& session : book.sessions) {
    if (asked.from && session.record.session.date < *asked.from) continue;
    ++made.sessions;
    made.sealed += session.record.entry ? 1 : 0;
  }
  made.faults = book.faults;
  return made;
}

}  // namespace

Result<BookMade> write_book(const store::Store& store, const BookAsked& asked, WallTime now, const Watch& watch) {
  const auto kind = kind_of(asked.file);
  if (!kind) return kind.error();
  if (Done checked = check_asked(asked); !checked) return checked.error();
  if (Done free = check_free(asked.file, *kind); !free) return free.error();

  report::Book book;
  book.order = asked.order == PrintOrder::by_date ? report::BookOrder::by_date : report::BookOrder::by_assembly;
  book.from = asked.from;
  book.until = asked.until;
  book.made = now;
  if (Done read = read_ground(store, book); !read) return read.error();
  if (Done read = read_lists(store, book); !read) return read.error();
  check_chain(book);
  if (Done read = read_sessions(store, asked, watch, book); !read) return read.error();
  if (const auto regime = find_regime(book.build.regime)) book.regime = regime->title;
  book.still = [&store](journal::StillId still) -> std::vector<std::uint8_t> {
    const auto bytes = store.still_bytes(still);
    if (!bytes) return {};
    return {bytes->begin(), bytes->end()};
  };

  show_photos(book, asked, watch);

  auto part = PartFile::begin(asked.file);
  if (!part) return part.error();
  BookFile file{*std::move(part), watch};
  const report::Document document = report::book_document(book);
  const report::Sink sink = [&file](std::string_view bytes) { return file.take(bytes); };
  watch.tell(0.99, "writing the book");
  const Done written = *kind == Kind::pdf ? report::write_pdf(document, sink) : report::write_html(document, sink);
  if (!written) return written.error();
  if (Done finished = file.finish(*kind); !finished) return finished.error();
  return summary_of(book, asked);
}

}  // namespace jigtime::actions
