#include "base/result.h"

namespace jigtime {

std::string_view to_text(Code code) {
  switch (code) {
    case Code::not_found: return "not found";
    case Code::unreadable: return "unreadable";
    case Code::unsupported: return "unsupported";
    case Code::denied: return "denied";
    case Code::no_space: return "no space";
    case Code::busy: return "busy";
    case Code::invalid: return "invalid";
    case Code::conflict: return "conflict";
    case Code::cancelled: return "cancelled";
    case Code::internal: return "internal";
  }
  return "internal";
}

Error Error::during(std::string_view attempt) const { return Error{code_, std::string{attempt} + ": " + message_}; }

}  // namespace jigtime
