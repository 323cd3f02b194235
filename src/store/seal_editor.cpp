// Entries of the chain, and signatures beside them.
#include <algorithm>

#include "base/text.h"
#include "journal/seal.h"
#include "store/editor_private.h"
#include "store/query_private.h"
#include "store/reader_private.h"
#include "store/search_private.h"

namespace jigtime::store {

using namespace journal;

namespace {

bool is_hex(std::string_view text, std::size_t digits) {
  return text.size() == digits &&
         std::all_of(text.begin(), text.end(), [](char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'); });
}

}  // namespace

Done Editor::check_entry(const Entry& entry) {
  if (entry.kind == EntryKind::sealing) {
    if (Done open = need_session(entry.session); !open) return open;
  } else {
    if (!read_entry(database_, entry.session)) {
      return Error{Code::conflict, "The session is not sealed. Change it instead of amending it."};
    }
    if (trimmed(entry.reason).empty()) return Error{Code::invalid, "An amendment needs a reason. Give one."};
    if (trimmed(entry.after).empty()) return Error{Code::invalid, "The amendment says nothing new. Say what holds."};
  }
  std::vector<Entry> entries = read_entries(database_);
  entries.push_back(entry);
  if (const auto fault = first_fault(entries, sha256_hex)) {
    return Error{Code::conflict, "The entry does not fit the entries before it. " + fault->what};
  }
  if (entry.text.empty() || !is_utf8(entry.text)) return Error{Code::invalid, "The entry's text is not text."};
  return {};
}

Result<EntryId> Editor::add(const Entry& entry) {
  return attempt([&]() -> Result<EntryId> {
    if (Done fits = check_entry(entry); !fits) return fits.error();
    if (entry.kind == EntryKind::amendment) {
      return EntryId{Query{database_,
                           "INSERT INTO amendment (session, number, sealed_at_ns, reason, before, after, text, "
                           "previous, digest) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9) RETURNING id"}
                         .with(entry.session, entry.number, entry.sealed_at, std::string_view{entry.reason},
                               std::string_view{entry.before}, std::string_view{entry.after},
                               std::string_view{entry.text}, std::string_view{entry.previous},
                               std::string_view{entry.digest})
                         .run_for_id()};
    }
    const EntryId id{Query{database_,
                           "INSERT INTO entry (session, number, sealed_at_ns, text, previous, digest) "
                           "VALUES (?1, ?2, ?3, ?4, ?5, ?6) RETURNING id"}
                         .with(entry.session, entry.number, entry.sealed_at, std::string_view{entry.text},
                               std::string_view{entry.previous}, std::string_view{entry.digest})
                         .run_for_id()};
    make_findable(database_, id, entry);
    return id;
  });
}

Done Editor::add(const Signature& signature) {
  return attempt([&]() -> Done {
    if (!is_hex(signature.public_key, 64) || !is_hex(signature.signature, 128)) {
      return Error{Code::invalid, "The signature or its key is cut short. Sign again."};
    }
    const std::vector<Entry> entries = read_entries(database_);
    if (std::none_of(entries.begin(), entries.end(), [&](const Entry& e) { return e.number == signature.number; })) {
      return Error{Code::not_found, "There is no entry " + std::to_string(signature.number) + " to sign."};
    }
    Query there{database_, "SELECT 1 FROM signature WHERE number = ?1 AND public_key = ?2"};
    if (there.with(signature.number, std::string_view{signature.public_key}).next()) {
      return Error{Code::conflict,
                   "Entry " + std::to_string(signature.number) + " carries a signature of that key already."};
    }
    Query{database_, "INSERT INTO signature (number, public_key, signature) VALUES (?1, ?2, ?3)"}
        .with(signature.number, std::string_view{signature.public_key}, std::string_view{signature.signature})
        .run();
    return {};
  });
}

}  // namespace jigtime::store
