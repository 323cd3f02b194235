#include "handbook/regime.h"

#include <algorithm>
#include <set>

#include "base/text.h"
#include "handbook/asset_text.h"

namespace jigtime::handbook {
namespace {

constexpr std::string_view heading = "jigtime regime 1";
constexpr std::size_t longest_words = 600;

class RegimeReader {
 public:
  Result<Regime> read(const std::vector<AssetLine>& lines) {
    for (const AssetLine& line : lines) take(line);
    const int last = lines.empty() ? 1 : lines.back().number;
    for (const char* key : {"name", "title", "share", "finding", "tasks", "record"}) {
      if (!keys_.contains(key)) faults_.add(last, "the file ends without a line \"" + std::string{key} + ": ...\".");
    }
    if (!faults_.none()) return faults_.error();
    return regime_;
  }

 private:
  void take(const AssetLine& line) {
    KeyValue pair;
    if (!split_key(line.text, pair)) return faults_.add(line.number, "it is not \"key: words\".");
    if (pair.value.empty() || pair.value.size() > longest_words) {
      return faults_.add(line.number, "what stands behind \"" + pair.key + ":\" is missing or longer than 600 bytes.");
    }
    const bool first = keys_.insert(pair.key).second;
    if (pair.key == "name" || pair.key == "title" || pair.key == "share") {
      if (!first) return faults_.add(line.number, "\"" + pair.key + "\" stands there twice.");
      return take_single(line, pair);
    }
    take_fact(line, pair);
  }

  void take_single(const AssetLine& line, const KeyValue& pair) {
    if (pair.key == "title") {
      regime_.title = pair.value;
    } else if (pair.key == "name") {
      regime_.name = pair.value;
      if (!is_asset_name(pair.value)) {
        faults_.add(line.number, "the name is made of small letters, digits and single dashes, for example canada.");
      }
    } else if (pair.value == "more than 50") {
      regime_.share = Share::more_than_50;
    } else if (pair.value == "at least 51") {
      regime_.share = Share::at_least_51;
    } else if (pair.value != "none") {
      faults_.add(line.number, "the share is \"more than 50\", \"at least 51\" or \"none\".");
    }
  }

  void take_fact(const AssetLine& line, const KeyValue& pair) {
    std::vector<std::string> fields = bar_fields(pair.value);
    if (pair.key == "inspection") {
      StageInspection inspection;
      inspection.name = fields.front();
      if (!is_asset_name(inspection.name) || !stages_.insert(inspection.name).second) {
        return faults_.add(line.number, "an inspection begins with a short name of its own, for example pre-cover.");
      }
      fields.erase(fields.begin());
      if (read_fact(line, fields, inspection.fact)) regime_.inspections.push_back(std::move(inspection));
      return;
    }
    std::vector<Fact>* facts = facts_of(pair.key);
    if (facts == nullptr) {
      return faults_.add(line.number,
                         "there is no key \"" + pair.key +
                             "\"; there are name, title, share, finding, tasks, record, inspection and note.");
    }
    Fact fact;
    if (read_fact(line, fields, fact)) facts->push_back(std::move(fact));
  }

  std::vector<Fact>* facts_of(std::string_view key) {
    if (key == "finding") return &regime_.findings;
    if (key == "tasks") return &regime_.tasks;
    if (key == "record") return &regime_.records;
    return key == "note" ? &regime_.notes : nullptr;
  }

  bool read_fact(const AssetLine& line, const std::vector<std::string>& fields, Fact& fact) {
    constexpr std::pair<std::string_view, Seen> words[] = {
        {"seen", Seen::seen}, {"quoted", Seen::quoted}, {"memory", Seen::memory}};
    const auto word = std::find_if(std::begin(words), std::end(words),
                                   [&](const auto& pair) { return fields.size() == 3 && pair.first == fields[2]; });
    if (word == std::end(words) || fields[0].empty()) {
      faults_.add(line.number, "a fact ends in \"| source | seen\", \"| source | quoted\" or \"| | memory\".");
      return false;
    }
    if (fields[1].empty() && word->second != Seen::memory) {
      faults_.add(line.number, "what was " + fields[2] + " has a source; without one it is from memory.");
      return false;
    }
    if (fields[0].back() != '.') {
      faults_.add(line.number, "a fact is a whole sentence and ends in a full stop.");
      return false;
    }
    fact = {fields[0], fields[1], word->second};
    return true;
  }

  Regime regime_;
  std::set<std::string> keys_;
  std::set<std::string> stages_;
  AssetFaults faults_;
};

}  // namespace

std::string to_text(const Fact& fact) {
  return fact.text.substr(0, fact.text.size() - 1) + " (" + to_text(Source{fact.source, fact.seen}) + ").";
}

Result<Regime> parse_regime(std::string_view text) {
  const auto lines = read_asset_lines(text, heading);
  if (!lines) return lines.error();
  return RegimeReader{}.read(*lines);
}

std::string share_sentence(const Regime& regime, const ChecklistSum& sum) {
  if (sum.total() == 0) return "No row of the checklist applies yet, so there is nothing to count.";
  const std::string counted = "The builder's share of the rows as they are filled in is " +
                              std::to_string(sum.builder()) + " of " + std::to_string(sum.total()) + " tenths, " +
                              to_decimal_text(sum.percent(sum.builder()), 1) + " %";
  if (regime.share == Share::none) return counted + "; no share asked for is known here.";
  const bool more = regime.share == Share::more_than_50;
  const bool reached = more ? sum.more_than(50) : sum.at_least(51);
  return counted + "; asked for is " + (more ? "more than 50 %" : "at least 51 %") + ", so the count is " +
         (reached ? "on that side of it" : "below it") + ". The finding is the authority's.";
}

}  // namespace jigtime::handbook
