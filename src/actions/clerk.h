// Words into ids, inside one edit; what is new is added.
#pragma once

#include <string>
#include <vector>

#include "actions/tagging.h"
#include "base/result.h"
#include "store/store.h"

namespace jigtime::actions {

class Clerk {
 public:
  /// `edit` must outlive this.
  Clerk(store::Edit& edit, journal::Register known) : edit_{edit}, known_{std::move(known)} {}

  /// A span without an id. Tasks and people that are new are added. Code::invalid for words that mean nothing.
  Result<journal::Span> span_of(journal::SessionId session, const SpanWords& words);
  /// By title; a new one is added at the assembly, and one without an assembly is put there.
  Result<journal::TaskId> task_of(const std::string& title, const std::string& assembly);
  Result<journal::PersonId> person_of(const std::string& name);

  /// What was added so far: whole sentences.
  std::vector<std::string> take_created() { return std::move(created_); }

 private:
  Result<journal::TaskId> put_in_place(const journal::Task& found, std::optional<journal::AssemblyId> assembly);

  store::Edit& edit_;
  journal::Register known_;
  std::vector<std::string> created_;
};

}  // namespace jigtime::actions
