// The words that stand for enum values in the file. They never change, whatever the program shows.
#pragma once

#include <string_view>

#include "base/text.h"
#include "journal/values.h"
#include "store/damaged.h"

namespace jigtime::store {

template <class Value>
struct Word {
  Value value;
  std::string_view word;
};

inline constexpr Word<journal::Rounding> rounding_words[] = {{journal::Rounding::none, "none"},
                                                             {journal::Rounding::minute, "minute"},
                                                             {journal::Rounding::tenth_hour, "tenth_hour"},
                                                             {journal::Rounding::quarter_hour, "quarter_hour"}};
inline constexpr Word<journal::Role> role_words[] = {{journal::Role::builder, "builder"},
                                                     {journal::Role::helper, "helper"},
                                                     {journal::Role::hired, "hired"},
                                                     {journal::Role::supplier, "supplier"}};
inline constexpr Word<journal::Basis> basis_words[] = {{journal::Basis::audio, "audio"},
                                                       {journal::Basis::clock, "clock"},
                                                       {journal::Basis::manual, "manual"},
                                                       {journal::Basis::none, "none"}};
inline constexpr Word<journal::Method> method_words[] = {{journal::Method::driven, "driven"},
                                                         {journal::Method::squeezed, "squeezed"},
                                                         {journal::Method::pulled, "pulled"},
                                                         {journal::Method::other, "other"}};
inline constexpr Word<journal::SpanKind> span_words[] = {{journal::SpanKind::work, "work"},
                                                         {journal::SpanKind::pause, "break"}};
inline constexpr Word<journal::ProposalKind> proposal_words[] = {{journal::ProposalKind::riveting, "riveting"},
                                                                 {journal::ProposalKind::pause, "break"},
                                                                 {journal::ProposalKind::signal, "signal"}};
inline constexpr Word<journal::ItemKind> item_words[] = {{journal::ItemKind::part, "part"},
                                                         {journal::ItemKind::tool, "tool"},
                                                         {journal::ItemKind::answer, "answer"},
                                                         {journal::ItemKind::inspection, "inspection"},
                                                         {journal::ItemKind::redo, "redo"}};
inline constexpr Word<ClockSource> source_words[] = {{ClockSource::timecode, "timecode"},
                                                     {ClockSource::container, "container"},
                                                     {ClockSource::name, "name"},
                                                     {ClockSource::file_time, "file_time"}};
inline constexpr Word<ClockKind> kind_words[] = {
    {ClockKind::utc, "utc"}, {ClockKind::local, "local"}, {ClockKind::time_of_day, "time_of_day"}};
inline constexpr Word<ClockEdge> edge_words[] = {{ClockEdge::begin, "begin"}, {ClockEdge::end, "end"}};

template <class Value, std::size_t count>
constexpr std::string_view word_for(const Word<Value> (&words)[count], Value value) {
  for (const Word<Value>& word : words) {
    if (word.value == value) return word.word;
  }
  return words[0].word;
}

/// The value in a column of a row (anything with text(column)). Throws Damaged for an unknown word.
template <class Row, class Value, std::size_t count>
Value value_in(const Row& row, int column, const Word<Value> (&words)[count]) {
  const std::string text = row.text(column);
  for (const Word<Value>& word : words) {
    if (word.word == text) return word.value;
  }
  throw Damaged{"nothing is called \"" + to_utf8(text) + "\""};
}

}  // namespace jigtime::store
