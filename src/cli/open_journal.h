// What nearly every command begins with: the journal, and one session of it.
#pragma once

#include <string>

#include "actions/shop.h"
#include "base/result.h"

namespace jigtime::cli {

struct OpenSession {
  store::Store store;
  journal::Session session;
};

Result<store::Store> open_journal(const std::string& path);

/// `date` may be empty: then the journal's only session, or Code::invalid that lists what there is.
Result<OpenSession> open_session(const std::string& path, const std::string& date);

}  // namespace jigtime::cli
