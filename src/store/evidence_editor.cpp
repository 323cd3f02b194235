// Photos, stills, and footage that was let go.
#include "base/text.h"
#include "journal/rules.h"
#include "store/editor_private.h"
#include "store/query_private.h"
#include "store/reader_private.h"
#include "store/words.h"

namespace jigtime::store {

using namespace journal;

namespace {

constexpr const char* session_of_photo = "SELECT session FROM photo WHERE id = ?1";
constexpr const char* session_of_still = "SELECT session FROM still WHERE id = ?1";

std::string_view bytes_of(const FileIdentity& identity) {
  // NOLINTNEXTLINE: the digest's bytes as characters.
  return {reinterpret_cast<const char*>(identity.digest.data()), identity.digest.size()};
}

/// The clock's columns; all of them NULL where the file says nothing.
struct ClockColumns {
  explicit ClockColumns(const std::optional<ClockReading>& reading) {
    if (!reading) return;
    source = word_for(source_words, reading->source);
    kind = word_for(kind_words, reading->kind);
    edge = word_for(edge_words, reading->edge);
    since_epoch = reading->since_epoch;
    resolution = reading->resolution;
    text = to_utf8(reading->text);
  }
  std::optional<std::string_view> source;
  std::optional<std::string_view> kind;
  std::optional<std::string_view> edge;
  std::optional<Length> since_epoch;
  std::optional<Length> resolution;
  std::optional<std::string> text;
};

}  // namespace

Result<PhotoId> Editor::add(const Photo& photo) {
  return attempt([&]() -> Result<PhotoId> {
    if (Done rules = check(photo); !rules) return rules.error();
    if (Done open = need_session(photo.session); !open) return open.error();
    const ClockColumns clock{photo.taken};
    return PhotoId{Query{database_,
                         "INSERT INTO photo (session, path, size_bytes, digest, camera, source, kind, edge, "
                         "since_epoch_ns, resolution_ns, clock_text, at_ns, sigma_ns, note) "
                         "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14) RETURNING id"}
                       .with(photo.session, Bytes{photo.path.native()},
                             static_cast<std::int64_t>(photo.identity.size_bytes), Bytes{bytes_of(photo.identity)},
                             std::string_view{photo.camera}, clock.source, clock.kind, clock.edge, clock.since_epoch,
                             clock.resolution, clock.text, photo.at, photo.sigma, std::string_view{photo.note})
                       .run_for_id()};
  });
}

Done Editor::update(const Photo& photo) {
  return attempt([&]() -> Done {
    if (Done rules = check(photo); !rules) return rules;
    if (Done open = need_session_of(session_of_photo, photo.id.value, "photo"); !open) return open;
    const ClockColumns clock{photo.taken};
    Query{database_,
          "UPDATE photo SET path = ?2, camera = ?3, source = ?4, kind = ?5, edge = ?6, since_epoch_ns = ?7, "
          "resolution_ns = ?8, clock_text = ?9, at_ns = ?10, sigma_ns = ?11, note = ?12 WHERE id = ?1"}
        .with(photo.id, Bytes{photo.path.native()}, std::string_view{photo.camera}, clock.source, clock.kind,
              clock.edge, clock.since_epoch, clock.resolution, clock.text, photo.at, photo.sigma,
              std::string_view{photo.note})
        .run();
    return {};
  });
}

Done Editor::remove(PhotoId photo) {
  return attempt([&]() -> Done {
    if (Done open = need_session_of(session_of_photo, photo.value, "photo"); !open) return open;
    Query{database_, "DELETE FROM photo WHERE id = ?1"}.with(photo).run();
    return {};
  });
}

Done Editor::relink(PhotoId photo, const std::filesystem::path& path) {
  return attempt([&]() -> Done {
    if (path.empty()) return Error{Code::invalid, "The new path is empty. Name the file."};
    if (!Query{database_, session_of_photo}.with(photo).next()) {
      return Error{Code::not_found, "There is no such photo in the journal. It may have been removed."};
    }
    Query{database_, "UPDATE photo SET path = ?2 WHERE id = ?1"}.with(photo, Bytes{path.native()}).run();
    return {};
  });
}

Result<StillId> Editor::add(const Still& still, std::string_view bytes) {
  return attempt([&]() -> Result<StillId> {
    if (Done rules = check(still); !rules) return rules.error();
    if (Done open = need_session(still.session); !open) return open.error();
    if (Done camera = need_camera(still.camera); !camera) return camera.error();
    if (sha256_hex(bytes) != still.digest) {
      return Error{Code::invalid, "The still's bytes and its digest do not agree. Take the still again."};
    }
    const auto there = [&](const char* sql, auto id) {
      return !id || Query{database_, sql}.with(*id, still.session).next();
    };
    if (!there("SELECT 1 FROM clip WHERE id = ?1 AND session = ?2", still.clip) ||
        !there("SELECT 1 FROM mark WHERE id = ?1 AND session = ?2", still.mark)) {
      return Error{Code::not_found, "The clip or the mark of the still is not in its session. Take the still again."};
    }
    return StillId{Query{database_,
                         "INSERT INTO still (session, at_ns, camera, clip, clip_at_ns, mark, digest, bytes) "
                         "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8) RETURNING id"}
                       .with(still.session, still.at, still.camera, still.clip, still.clip_at, still.mark,
                             std::string_view{still.digest}, Bytes{bytes})
                       .run_for_id()};
  });
}

Done Editor::remove(StillId still) {
  return attempt([&]() -> Done {
    if (Done open = need_session_of(session_of_still, still.value, "still"); !open) return open;
    Query{database_, "DELETE FROM still WHERE id = ?1"}.with(still).run();
    return {};
  });
}

Done Editor::let_go(ClipId clip, const LetGo& let_go) {
  return attempt([&]() -> Done {
    if (Done rules = check(let_go); !rules) return rules;
    const std::optional<Clip> there = read_clip(database_, clip);
    if (!there) return Error{Code::not_found, "There is no such clip in the journal. It may have been removed."};
    if (there->let_go) {
      return Error{Code::conflict, there->name() + " was let go on " + jigtime::to_text(there->let_go->on) +
                                       " already: " + there->let_go->reason};
    }
    const auto kept = [&](auto value) { return let_go.kept_is ? std::optional{value} : std::nullopt; };
    const FileIdentity copy = let_go.kept_is.value_or(FileIdentity{});
    Query{database_,
          "INSERT INTO let_go (clip, date, reason, kept_path, kept_size_bytes, kept_digest) "
          "VALUES (?1, ?2, ?3, ?4, ?5, ?6)"}
        .with(clip, std::string_view{jigtime::to_text(let_go.on)}, std::string_view{let_go.reason},
              kept(Bytes{let_go.kept_copy.native()}), kept(static_cast<std::int64_t>(copy.size_bytes)),
              kept(Bytes{bytes_of(copy)}))
        .run();
    return {};
  });
}

Done Editor::take_back(ClipId clip) {
  return attempt([&]() -> Done {
    if (Done open = need_session_of("SELECT session FROM clip WHERE id = ?1", clip.value, "clip"); !open) return open;
    Query{database_, "DELETE FROM let_go WHERE clip = ?1"}.with(clip).run();
    return {};
  });
}

}  // namespace jigtime::store
