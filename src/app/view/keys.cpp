#include "app/view/keys.h"

#include <algorithm>
#include <array>

namespace jigtime::app {
namespace {

constexpr int f(int number) { return key_f1 + number - 1; }

constexpr std::array<KeyLine, 59> lines{{
    {Where::everywhere, Word::keys_everywhere, {f(1)}, Deed::help, Word::do_help},
    {Where::everywhere, Word::keys_everywhere, {f(2)}, Deed::go_sessions, Word::do_go_sessions},
    {Where::everywhere, Word::keys_everywhere, {f(3)}, Deed::go_bench, Word::do_go_bench},
    {Where::everywhere, Word::keys_everywhere, {f(4)}, Deed::go_fasteners, Word::do_go_fasteners},
    {Where::everywhere, Word::keys_everywhere, {f(5)}, Deed::go_ledger, Word::do_go_ledger},
    {Where::everywhere, Word::keys_everywhere, {f(6)}, Deed::go_items, Word::do_go_items},
    {Where::everywhere, Word::keys_everywhere, {f(7)}, Deed::go_find, Word::do_go_find},
    {Where::everywhere, Word::keys_everywhere, {f(8)}, Deed::go_names, Word::do_go_names},
    {Where::everywhere, Word::keys_everywhere, {'Z', false, true}, Deed::undo, Word::do_undo},
    {Where::everywhere, Word::keys_everywhere, {'Y', false, true}, Deed::redo, Word::do_redo},
    {Where::everywhere, Word::keys_everywhere, {'=', false, true}, Deed::bigger, Word::do_bigger},
    {Where::everywhere, Word::keys_everywhere, {'-', false, true}, Deed::smaller, Word::do_smaller},

    {Where::everywhere, Word::keys_everywhere, {'Q', false, true}, Deed::quit, Word::do_quit},

    {Where::bench, Word::keys_tag, {'B'}, Deed::begin, Word::do_begin},
    {Where::bench, Word::keys_tag, {'E'}, Deed::end, Word::do_end},
    {Where::bench, Word::keys_tag, {'0'}, Deed::pause, Word::do_pause},
    {Where::bench, Word::keys_tag, {'1'}, Deed::recent_task, Word::do_recent},
    {Where::bench, Word::keys_tag, {'1', true}, Deed::person, Word::do_person},
    {Where::bench, Word::keys_tag, {'P'}, Deed::person_typed, Word::do_person_typed},
    {Where::bench, Word::keys_tag, {'T'}, Deed::task_typed, Word::do_task},
    {Where::bench, Word::keys_tag, {'F'}, Deed::fasteners, Word::do_fasteners},
    {Where::bench, Word::keys_tag, {'N'}, Deed::note, Word::do_note},
    {Where::bench, Word::keys_tag, {key_escape}, Deed::drop, Word::do_drop},
    {Where::bench, Word::keys_tag, {'M'}, Deed::mark, Word::do_mark},
    {Where::bench, Word::keys_tag, {'W'}, Deed::waits, Word::do_waits},
    {Where::bench, Word::keys_tag, {'A'}, Deed::accept, Word::do_accept},

    {Where::bench, Word::keys_film, {key_space}, Deed::play, Word::do_play},
    {Where::bench, Word::keys_film, {key_up}, Deed::faster, Word::do_faster},
    {Where::bench, Word::keys_film, {key_down}, Deed::slower, Word::do_slower},
    {Where::bench, Word::keys_film, {'R'}, Deed::normal_speed, Word::do_normal},
    {Where::bench, Word::keys_film, {key_left}, Deed::back_5, Word::do_back_5},
    {Where::bench, Word::keys_film, {key_right}, Deed::on_5, Word::do_on_5},
    {Where::bench, Word::keys_film, {key_left, true}, Deed::back_60, Word::do_back_60},
    {Where::bench, Word::keys_film, {key_right, true}, Deed::on_60, Word::do_on_60},
    {Where::bench, Word::keys_film, {key_left, false, true}, Deed::picture_back, Word::do_picture_back},
    {Where::bench, Word::keys_film, {key_right, false, true}, Deed::picture_on, Word::do_picture_on},
    {Where::bench, Word::keys_film, {key_page_down}, Deed::jump_on, Word::do_jump_on},
    {Where::bench, Word::keys_film, {key_page_up}, Deed::jump_back, Word::do_jump_back},
    {Where::bench, Word::keys_film, {'J'}, Deed::jump_kind, Word::do_jump_kind},
    {Where::bench, Word::keys_film, {'G'}, Deed::go_to_time, Word::do_go_to},
    {Where::bench, Word::keys_film, {key_home}, Deed::day_begin, Word::do_day_begin},
    {Where::bench, Word::keys_film, {key_end}, Deed::day_end, Word::do_day_end},
    {Where::bench, Word::keys_film, {'H'}, Deed::sound_next, Word::do_sound},

    {Where::bench, Word::keys_strip, {'='}, Deed::zoom_in, Word::do_zoom_in},
    {Where::bench, Word::keys_strip, {'-'}, Deed::zoom_out, Word::do_zoom_out},
    {Where::bench, Word::keys_strip, {'D'}, Deed::zoom_day, Word::do_zoom_day},
    {Where::bench, Word::keys_strip, {'S', true}, Deed::split, Word::do_split},
    {Where::bench, Word::keys_strip, {'B', true}, Deed::trim_begin, Word::do_trim_begin},
    {Where::bench, Word::keys_strip, {'E', true}, Deed::trim_end, Word::do_trim_end},
    {Where::bench, Word::keys_strip, {key_delete}, Deed::remove, Word::do_remove},
    {Where::bench, Word::keys_strip, {'C'}, Deed::copy_mark, Word::do_copy_mark},
    {Where::bench, Word::keys_strip, {'M', true}, Deed::reword_mark, Word::do_reword},
    {Where::bench, Word::keys_strip, {'T', true}, Deed::tie, Word::do_tie},
    {Where::bench, Word::keys_strip, {key_pad_add}, Deed::zoom_in, Word::do_zoom_in},
    {Where::bench, Word::keys_strip, {key_pad_subtract}, Deed::zoom_out, Word::do_zoom_out},
    {Where::ledger, Word::keys_ledger, {'S'}, Deed::seal, Word::do_seal},
    {Where::ledger, Word::keys_ledger, {'Y'}, Deed::seal_sure, Word::do_seal_sure},
    {Where::ledger, Word::keys_ledger, {'V'}, Deed::verify, Word::do_verify},
    {Where::everywhere, Word::keys_everywhere, {'Z', true, true}, Deed::redo, Word::do_redo},
}};

/// The same key with Shift on keyboards where the sign needs it: + is Shift and =.
Press plain(const Press& press) {
  if (press.key == '=' && press.shift) return {'=', false, press.control};
  return press;
}

std::string name_of(int key) {
  if (key >= f(1) && key <= f(12)) return "F" + std::to_string(key - key_f1 + 1);
  switch (key) {
    case key_space: return say(Word::key_space);
    case key_escape: return say(Word::key_escape);
    case key_enter: return say(Word::key_enter);
    case key_tab: return say(Word::key_tab);
    case key_delete: return say(Word::key_delete);
    case key_right: return say(Word::key_right);
    case key_left: return say(Word::key_left);
    case key_down: return say(Word::key_down);
    case key_up: return say(Word::key_up);
    case key_page_up: return say(Word::key_page_up);
    case key_page_down: return say(Word::key_page_down);
    case key_home: return say(Word::key_home);
    case key_end: return say(Word::key_end);
    case key_pad_add: return say(Word::key_pad_add);
    case key_pad_subtract: return say(Word::key_pad_subtract);
    case '=': return "+";
    default: return std::string(1, static_cast<char>(key));
  }
}

/// Beside the key of a sign a plus would be read as that key: "Ctrl and +".
std::string with_modifiers(const Press& press, const std::string& name) {
  const std::string with = name == "+" || name == "-" ? say(Word::key_and) : "+";
  return (press.control ? say(Word::key_control) + with : std::string{}) +
         (press.shift ? say(Word::key_shift) + with : std::string{}) + name;
}

}  // namespace

std::optional<Meaning> deed_for(const Press& given, Where where) {
  const Press press = plain(given);
  if (where == Where::bench && press.key >= '1' && press.key <= '9' && !press.control) {
    return Meaning{press.shift ? Deed::person : Deed::recent_task, press.key - '1'};
  }
  for (const KeyLine& line : lines) {
    if (line.press == press && (line.where == Where::everywhere || line.where == where)) return Meaning{line.deed, 0};
  }
  return std::nullopt;
}

std::span<const KeyLine> all_keys() { return lines; }

std::string key_text(const Press& press) {
  if (press.key == '1') return with_modifiers(press, say(Word::key_digits));
  return with_modifiers(press, name_of(press.key));
}

std::string key_of(Deed deed) {
  const auto line = std::find_if(lines.begin(), lines.end(), [&](const KeyLine& one) { return one.deed == deed; });
  return line == lines.end() ? std::string{} : key_text(line->press);
}

}  // namespace jigtime::app
