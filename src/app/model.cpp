#include "app/model.h"

#include <stdexcept>

#include "app/backroom/settings_file.h"
#include "app/view/words.h"

namespace jigtime::app {

Model::Model(std::function<void()> wake)
    : mailbox{wake},
      settings{load_settings()},
      jobs{mailbox,
           [this](std::string words) {
             tell({std::move(words), true});
           }},
      playback{wake} {}

const BenchView& Model::view() const {
  const BenchView* there = bench_view();
  if (there == nullptr) throw std::logic_error{"no session is at the bench"};
  return *there;
}

bool Model::sealed() const { return bench_view() != nullptr && view().record.entry.has_value(); }

bool Model::fixed() const { return sealed() || (snapshot && !snapshot->read_only.empty()); }

std::string Model::why_fixed() const { return sealed() ? std::string{say(Word::sealed_refuses)} : snapshot->read_only; }

void Model::tell(Told what) {
  if (!what.words.empty()) told = std::move(what);
}

}  // namespace jigtime::app
