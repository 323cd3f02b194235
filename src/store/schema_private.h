// Pieces that the steps of several formats share.
// Must never know: the record's values.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "store/schema.h"

namespace jigtime::store {

/// SQL of step n - 1: from format n - 1 to format n.
std::string to_format_1();
std::string to_format_2();
std::string to_format_3();
std::string to_format_4();

/// The view of a span's words, one line a field.
extern const std::string_view span_words_view;

/// A trigger that writes the search rows of some spans anew; a search row is the row it describes, times `kinds`.
std::string refound(const std::string& kinds, const std::string& name, const std::string& event,
                    const std::string& spans);
/// All of them that spans, their people, fasteners, tasks and assemblies need.
std::string span_triggers(const std::string& kinds);

/// How a row of a table leads to its session; `ROW` stands for NEW or OLD.
struct Owner {
  std::string_view table;
  std::string_view session;
};
inline constexpr std::string_view of_clip = "(SELECT session FROM clip WHERE id = ROW.clip)";
inline constexpr std::string_view of_span = "(SELECT session FROM span WHERE id = ROW.span)";

/// A trigger that refuses the event with sealed_signal.
std::string refusal(const std::string& name, const std::string& event, const std::string& when);
/// Whether the session of that row (NEW or OLD) is sealed.
std::string sealed(std::string_view session, std::string_view row);
/// Refuses every change to rows of sealed sessions; but files and photos may be found again at another path.
std::string seal_triggers(std::span<const Owner> owners);

}  // namespace jigtime::store
