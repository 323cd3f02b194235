#include "actions/footage.h"

#include <doctest/doctest.h>

#include <fstream>

#include "actions/history.h"
#include "actions/sealing.h"
#include "actions/stills.h"
#include "media/probe.h"
#include "support/temp_folder.h"
#include "tagged_desk.h"

using namespace jigtime;
using namespace jigtime::actions;
using namespace jigtime::test;
using namespace std::chrono_literals;

namespace {

namespace fs = std::filesystem;

/// One clip of one file whose bytes are no footage: what is asked here never decodes it.
struct Shed : TaggedDesk {
  TempFolder folder;
  fs::path card = folder / "card";
  fs::path file = card / "a1.mp4";

  Shed() {
    fs::create_directories(card);
    write(file, "first");
    journal::Part part;
    part.path = file;
    part.identity = *media::identify(file);
    part.length = 10min;
    const Done done = store.edit("import", [&](store::Edit& edit) -> Done {
      const auto camera = edit.add(journal::Camera{{}, "bench"});
      if (!camera) return camera.error();
      journal::Clip clip;
      clip.session = session;
      clip.camera = *camera;
      clip.parts = {part};
      clip.length = 10min;
      clip.pictures = journal::Pictures{"h264", 64, 48, 40ms};
      const auto added = edit.add(clip);
      if (!added) return added.error();
      return edit.set_placement({*added, journal::Basis::manual, {{ClipTime{}, ClipTime{10min}, {}, 0, 1s}}, {}, {}});
    });
    REQUIRE(done);
  }

  static void write(const fs::path& path, const std::string& text) { std::ofstream{path} << text; }
  FootageFile only() const { return list_footage(store, session)->at(0); }
  Result<GivenUp> let_go(const std::string& clip, const std::string& reason) {
    return let_footage_go(store, session, {clip, reason, std::chrono::year{2026} / 5 / 1, {}}, {});
  }
};

}  // namespace

TEST_CASE_FIXTURE(Shed, "footage is present where the journal says, and elsewhere once it was moved or exchanged") {
  CHECK(only().state == FootageState::present);
  CHECK(only().why.empty());
  fs::rename(file, folder / "moved.mp4");
  CHECK(only().state == FootageState::elsewhere);
  CHECK(holds(only().why, "a1.mp4 is not where it was"));
  CHECK(holds(only().why, "--look-in"));
  write(file, "other");
  CHECK(only().state == FootageState::elsewhere);
  CHECK(holds(only().why, "lies another file now"));
}

TEST_CASE_FIXTURE(Shed, "moved footage is found again by its digest, under any name, also when it is sealed") {
  REQUIRE(seal_session(store, session, {}));
  fs::create_directories(folder / "archive/deep");
  fs::rename(file, folder / "archive/deep/renamed.mp4");
  write(folder / "archive/decoy.mp4", "fIrst");
  const auto found = look_in(store, session, folder / "archive", {});
  REQUIRE(found);
  CHECK(found->relinked == 1);
  CHECK(found->missing.empty());
  CHECK(only().state == FootageState::present);
  CHECK(only().path.filename() == "renamed.mp4");
  CHECK(look_in(store, std::nullopt, folder / "archive", {})->relinked == 0);
}

TEST_CASE_FIXTURE(Shed, "what is not found is listed as missing, and nothing is changed") {
  fs::rename(file, folder / "moved.mp4");
  const auto found = look_in(store, session, card, {});
  REQUIRE(found);
  CHECK(found->relinked == 0);
  CHECK(found->missing == std::vector<fs::path>{file});
  CHECK(holds(said(look_in(store, session, folder / "none", {})), "not found: "));
}

TEST_CASE_FIXTURE(Shed, "letting go keeps the file, the placement and the reason, and every still says so plainly") {
  const auto gone = let_go("a1.mp4", "The disk was full.");
  REQUIRE(gone);
  CHECK(gone->files_still_there == std::vector<fs::path>{file});
  CHECK(fs::exists(file));
  CHECK(only().state == FootageState::let_go);
  fs::remove(file);
  const auto still = still_at(record(), SessionTime{1min}, {});
  CHECK(holds(said(still), "not found: a1.mp4 was let go on 2026-05-01 (The disk was full.)"));
  CHECK(record().placements.size() == 1);
  const auto verified = verify_journal(store, {});
  REQUIRE(verified);
  CHECK(verified->sound());
  REQUIRE(undo(store));
  CHECK(only().state == FootageState::elsewhere);
}

TEST_CASE_FIXTURE(Shed, "letting go needs a clip that is there and a reason, and happens once") {
  CHECK(holds(said(let_go("a1.mp4", " ")), "invalid: Letting footage go needs a reason"));
  CHECK(
      holds(said(let_go("b1.mp4", "Full.")), "not found: No clip of the session of 2026-03-14 has a file \"b1.mp4\""));
  REQUIRE(let_go("a1.mp4", "Full."));
  CHECK(holds(said(let_go("a1.mp4", "Full.")), "conflict: a1.mp4 was let go on 2026-05-01 already: Full."));
}

TEST_CASE_FIXTURE(Shed, "a smaller copy can be kept instead, with its digest") {
  write(folder / "small.mp4", "small");
  const auto gone =
      let_footage_go(store, session, {"a1.mp4", "Full.", std::chrono::year{2026} / 5 / 1, folder / "small.mp4"}, {});
  REQUIRE(gone);
  const journal::LetGo kept = *record().clips[0].let_go;
  CHECK(kept.kept_copy == folder / "small.mp4");
  CHECK(kept.kept_is == *media::identify(folder / "small.mp4"));
}

TEST_CASE_FIXTURE(Shed, "a mark whose still cannot be kept is named, and the footage is let go all the same") {
  REQUIRE(add_mark(store, session, SessionTime{2min}, "low head"));
  const auto gone = let_go("a1.mp4", "Full.");
  REQUIRE(gone);
  CHECK(gone->stills_kept == 0);
  REQUIRE(gone->notes.size() == 1);
  CHECK(holds(gone->notes[0], "No still of the mark at 0:02:00.000"));
}
