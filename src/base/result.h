// Expected failure as a value.
// Must never know: any module above base, any vendor library.
// Begin reading at: Code, which says what the person in front of the screen can do next.
#pragma once

#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <variant>

namespace jigtime {

/// Sorted by what can be done about the failure, not by where it arose.
enum class Code {
  not_found,    ///< locate it, or name something that exists
  unreadable,   ///< damaged: copy it again, or go on without it
  unsupported,  ///< convert it
  denied,       ///< ask for permission
  no_space,     ///< free some space; nothing was changed
  busy,         ///< another program has it open; try again
  invalid,      ///< mend the input
  conflict,     ///< the record forbids it (sealed, still in use)
  cancelled,    ///< the builder asked for it
  internal,     ///< report a bug
};

std::string_view to_text(Code code);

/// What went wrong and what was being attempted. `message` is a whole sentence a builder can read; it names the
/// file, the row or the word at fault and, where there is one, the next step.
class Error {
 public:
  Error(Code code, std::string message) : code_{code}, message_{std::move(message)} {}

  Code code() const { return code_; }
  /// The message, with what was being attempted in front of it: "importing a.mp4: ...".
  const std::string& message() const { return message_; }
  /// The same failure, seen from one level higher up.
  [[nodiscard]] Error during(std::string_view attempt) const;

 private:
  Code code_;
  std::string message_;
};

/// A value or an Error. Asking for the one that is not there is a mistake of ours and throws std::logic_error.
template <class T>
class [[nodiscard]] Result {
 public:
  Result(T value) : content_{std::in_place_index<0>, std::move(value)} {}      // NOLINT: conversion is the point
  Result(Error error) : content_{std::in_place_index<1>, std::move(error)} {}  // NOLINT

  bool ok() const { return content_.index() == 0; }
  explicit operator bool() const { return ok(); }

  const T& value() const& { return check(), std::get<0>(content_); }
  T& value() & { return check(), std::get<0>(content_); }
  T&& value() && { return check(), std::move(std::get<0>(content_)); }
  const T& operator*() const& { return value(); }
  T& operator*() & { return value(); }
  T&& operator*() && { return std::move(*this).value(); }
  const T* operator->() const { return &value(); }
  T* operator->() { return &value(); }

  const Error& error() const {
    if (ok()) throw std::logic_error{"Result holds a value, not an error"};
    return std::get<1>(content_);
  }

 private:
  void check() const {
    if (!ok()) throw std::logic_error{"Result holds an error: " + std::get<1>(content_).message()};
  }
  std::variant<T, Error> content_;
};

template <>
class [[nodiscard]] Result<void> {
 public:
  Result() = default;
  Result(Error error) : error_{std::move(error)} {}  // NOLINT: conversion is the point

  bool ok() const { return !error_.has_value(); }
  explicit operator bool() const { return ok(); }
  const Error& error() const {
    if (ok()) throw std::logic_error{"Result holds no error"};
    return *error_;
  }

 private:
  std::optional<Error> error_;
};

using Done = Result<void>;

}  // namespace jigtime
