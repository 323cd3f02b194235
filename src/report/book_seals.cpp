// Seals and amendments with their digests, and how anybody checks them.
#include <algorithm>
#include <map>

#include "base/text.h"
#include "journal/seal.h"
#include "report/book_parts.h"
#include "report/clean.h"
#include "report/words.h"

namespace jigtime::report {
namespace {

using journal::Entry;

/// A signature is twice as long as a digest.
std::string in_lines(const std::string& digits) {
  constexpr std::size_t line = 64;
  std::string text;
  for (std::size_t at = 0; at < digits.size(); at += line) {
    if (at > 0) text += '\n';
    text += digits.substr(at, line);
  }
  return text;
}

std::map<journal::SessionId, std::chrono::year_month_day> dates_of(const Book& book) {
  std::map<journal::SessionId, std::chrono::year_month_day> dates;
  for (const BookSession& session : book.sessions) dates[session.record.session.id] = session.record.session.date;
  return dates;
}

Table chain_table(const BookGround& ground) {
  Table table{"The chain: every entry's digest is over its text and the digest before it",
              {{"Entry", Align::numbers},
               {"What", Align::wide_words},
               {"Sealed (UTC)", Align::times},
               {"SHA-256", Align::digests}},
              {},
              {},
              "No session has been sealed."};
  const auto dates = dates_of(ground.book);
  for (const Entry& entry : ground.book.chain) {
    const auto date = dates.find(entry.session);
    const std::string day = date == dates.end() ? "a session after this book's last day" : day_words(date->second);
    std::string what = day;
    if (entry.kind == journal::EntryKind::amendment) {
      what = "Amends " + day + ": \"" + one_line(clean(entry.before)) + "\" should say \"" +
             one_line(clean(entry.after)) + "\". " + one_line(clean(entry.reason));
    }
    table.rows.push_back({std::to_string(entry.number), std::move(what), to_text(entry.sealed_at), entry.digest});
  }
  return table;
}

Table signatures_table(const Book& book) {
  Table table{"Signatures (Ed25519)",
              {{"Entry", Align::numbers}, {"Public key, and below it the signature in two lines", Align::digests}},
              {},
              {},
              "No entry is signed."};
  for (const journal::Signature& signature : book.signatures) {
    table.rows.push_back(
        {std::to_string(signature.number), in_lines(signature.public_key) + "\n" + in_lines(signature.signature)});
  }
  return table;
}

std::string unsealed_words(const BookGround& ground) {
  const auto unsealed = static_cast<std::size_t>(std::count_if(
      ground.printed.begin(), ground.printed.end(), [](const BookSession* session) { return !session->record.entry; }));
  if (unsealed == 0) return "Every session in this book is sealed.";
  return count_words(unsealed, "session in this book is", "sessions in this book are") +
         " not sealed and can still be changed.";
}

}  // namespace

Blocks seals_part(const BookGround& ground) {
  const Book& book = ground.book;
  Blocks blocks;
  blocks.push_back(Heading{1, "Seals and how to check them", "seals"});
  blocks.push_back(Paragraph{unsealed_words(ground)});
  if (book.faults.empty()) {
    blocks.push_back(
        Paragraph{"When this book was made, the chain of digests, every entry against the record it was made "
                  "from, and all signatures were checked: everything fitted. Footage was not read for it; "
                  "jigtime verify does that.",
                  Voice::strong});
  } else {
    blocks.push_back(Paragraph{"When this book was made, these things did not fit:", Voice::strong});
    for (const std::string& fault : book.faults) blocks.push_back(Paragraph{clean(fault), Voice::caution});
  }
  blocks.push_back(Heading{3, "To check it yourself", ""});
  blocks.push_back(Paragraph{
      "The journal file and this book must show the same digests. jigtime verify checks the file. Without Jigtime: "
      "export a "
      "session; session.json holds the entry's text, its digest and the one before it. The digest is the SHA-256 of "
      "the "
      "digest before it (64 zeros for the first), a line feed, and the text, in UTF-8. A changed letter in any entry "
      "changes its digest and all digests after it. A signature is over the bytes \"jigtime entry \" and the digest."});
  if (!book.chain.empty()) {
    blocks.push_back(Paragraph{"The last digest stands for all of them:"});
    blocks.push_back(Paragraph{book.chain.back().digest, Voice::mono});
  }
  blocks.push_back(chain_table(ground));
  blocks.push_back(signatures_table(book));
  return blocks;
}

}  // namespace jigtime::report
