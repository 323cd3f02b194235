// One event that two cameras show: said by the builder, held by the next line-up.
#include "app/deeds.h"
#include "app/screens.h"
#include "app/theme.h"
#include "app/ui.h"

namespace jigtime::app {
namespace {

std::optional<TieEnd> end_here(Model& model) {
  auto end = tie_end(model.view().record, *model.bench.clip, model.playback.position());
  if (!end) model.tell({std::string{say(Word::tie_outside)}, true});
  return end;
}

bool is_other_end(const Model& model) {
  const journal::Clip* clip = model.view().record.clip(journal::ClipId{*model.bench.clip});
  return model.bench.tie_begun && clip != nullptr && clip->camera.value != model.bench.tie_begun->camera;
}

}  // namespace

void tie_here(Model& model) {
  if (model.fixed()) return model.tell({model.why_fixed(), true});
  if (!model.bench.clip) return model.tell({std::string{say(Word::select_clip)}, true});
  const auto end = end_here(model);
  if (!end) return;
  if (is_other_end(model)) {
    tie_clips(model, model.bench.tie_begun->moment, end->moment);
    return model.bench.tie_begun.reset();
  }
  model.bench.tie_begun = end;
  model.tell({say(Word::tie_go_on, {in_words(end->moment)}), false});
}

void draw_ties(Model& model) {
  if (!model.bench.clip || model.fixed()) return;
  for (const TieLine& tie : ties_of(model.view().record, *model.bench.clip)) {
    ImGui::PushID(static_cast<int>(tie.id.value));
    dim(say(Word::tie_is, {tie.a, tie.b}));
    if (button(Word::tie_remove)) untie_clips(model, tie.id);
    ImGui::PopID();
  }
  if (model.bench.tie_begun) dim(say(Word::tie_begun, {in_words(model.bench.tie_begun->moment)}));
  const bool ends = is_other_end(model);
  if (button(ends ? Word::tie_end : Word::tie_begin, Deed::tie, ends ? Weight::strong : Weight::plain)) tie_here(model);
}

}  // namespace jigtime::app
