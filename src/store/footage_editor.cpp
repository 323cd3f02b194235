#include "base/text.h"
#include "journal/rules.h"
#include "store/editor_private.h"
#include "store/query_private.h"
#include "store/reader_private.h"
#include "store/words.h"

namespace jigtime::store {

using namespace journal;

namespace {

std::string_view bytes_of(const FileIdentity& identity) {
  // NOLINTNEXTLINE: the digest's bytes as characters.
  return {reinterpret_cast<const char*>(identity.digest.data()), identity.digest.size()};
}

template <class Value, class Member>
std::optional<Member> member(const std::optional<Value>& value, Member Value::*which) {
  if (!value) return std::nullopt;
  return (*value).*which;
}

std::optional<std::string> codec(const std::optional<Sound>& sound) {
  return sound ? std::optional{to_utf8(sound->codec)} : std::nullopt;
}

std::optional<std::string> codec(const std::optional<Pictures>& pictures) {
  return pictures ? std::optional{to_utf8(pictures->codec)} : std::nullopt;
}

constexpr const char* session_of_clip = "SELECT session FROM clip WHERE id = ?1";

}  // namespace

void Editor::write_part(ClipId clip, int position, const Part& part) {
  const std::string path = part.path.string();
  std::optional<PartId> id;
  if (part.id.value != 0) id = part.id;
  const PartId row{Query{database_,
                         "INSERT INTO part (id, clip, position, path, size_bytes, digest, clip_from_ns, length_ns) "
                         "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8) ON CONFLICT (id) DO UPDATE SET path = excluded.path, "
                         "clip_from_ns = excluded.clip_from_ns, length_ns = excluded.length_ns RETURNING id"}
                       .with(id, clip, position, Bytes{path}, static_cast<std::int64_t>(part.identity.size_bytes),
                             Bytes{bytes_of(part.identity)}, part.clip_from, part.length)
                       .run_for_id()};
  Query{database_, "DELETE FROM clock_reading WHERE part = ?1"}.with(row).run();
  Query clock{database_,
              "INSERT INTO clock_reading (part, position, source, kind, edge, since_epoch_ns, resolution_ns, text) "
              "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)"};
  int number = 0;
  for (const ClockReading& reading : part.clocks) {
    clock
        .with(row, number++, word_for(source_words, reading.source), word_for(kind_words, reading.kind),
              word_for(edge_words, reading.edge), reading.since_epoch, reading.resolution,
              std::string_view{to_utf8(reading.text)})
        .run();
  }
}

void Editor::write_clip_notes(ClipId clip, const std::vector<std::string>& notes) {
  Query{database_, "DELETE FROM clip_note WHERE clip = ?1"}.with(clip).run();
  Query note{database_, "INSERT INTO clip_note (clip, position, text) VALUES (?1, ?2, ?3)"};
  int number = 0;
  for (const std::string& text : notes) note.with(clip, number++, std::string_view{to_utf8(text)}).run();
}

Done Editor::check_clip(const Clip& clip) {
  if (Done session = need_session(clip.session); !session) return session;
  return need_camera(clip.camera);
}

Result<ClipId> Editor::add(const Clip& clip) {
  if (Done rules = check(clip); !rules) return rules.error();
  return attempt([&]() -> Result<ClipId> {
    if (Done ground = check_clip(clip); !ground) return ground.error();
    const ClipId id{
        Query{database_,
              "INSERT INTO clip (session, camera, length_ns, sound_codec, sound_rate_hz, sound_channels, "
              "picture_codec, picture_width, picture_height, picture_length_ns) "
              "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10) RETURNING id"}
            .with(clip.session, clip.camera, clip.length, codec(clip.sound), member(clip.sound, &Sound::sample_rate_hz),
                  member(clip.sound, &Sound::channels), codec(clip.pictures), member(clip.pictures, &Pictures::width),
                  member(clip.pictures, &Pictures::height), member(clip.pictures, &Pictures::picture_length))
            .run_for_id()};
    int position = 0;
    for (Part part : clip.parts) {
      part.id = {};
      write_part(id, position++, part);
    }
    write_clip_notes(id, clip.notes);
    return id;
  });
}

Done Editor::check_parts_kept(const Clip& before, const Clip& clip) {
  for (std::size_t i = 0; i < before.parts.size(); ++i) {
    const bool kept = i < clip.parts.size() && clip.parts[i].id == before.parts[i].id &&
                      clip.parts[i].identity == before.parts[i].identity;
    if (kept) continue;
    return Error{Code::invalid, "The clip would lose its part \"" + to_utf8(before.parts[i].path.filename().string()) +
                                    "\". Parts can only be added behind the others; remove the clip to begin anew."};
  }
  for (std::size_t i = before.parts.size(); i < clip.parts.size(); ++i) {
    if (clip.parts[i].id.value == 0) continue;
    return Error{Code::invalid, "A part of another clip cannot be added to this one. Import its file."};
  }
  return {};
}

Done Editor::update(const Clip& clip) {
  if (Done rules = check(clip); !rules) return rules;
  return attempt([&]() -> Done {
    if (Done open = need_session_of(session_of_clip, clip.id.value, "clip"); !open) return open;
    const Clip before = *read_clip(database_, clip.id);
    if (before.session != clip.session) {
      return Error{Code::invalid, "A clip stays in its session. Remove it and import it into the other one."};
    }
    if (Done camera = need_camera(clip.camera); !camera) return camera;
    if (Done kept = check_parts_kept(before, clip); !kept) return kept;
    if (const auto placement = read_placement(database_, clip.id)) {
      if (Done fits = check(*placement, clip); !fits) return fits;
    }
    Query{database_,
          "UPDATE clip SET camera = ?2, length_ns = ?3, sound_codec = ?4, sound_rate_hz = ?5, sound_channels = ?6, "
          "picture_codec = ?7, picture_width = ?8, picture_height = ?9, picture_length_ns = ?10 WHERE id = ?1"}
        .with(clip.id, clip.camera, clip.length, codec(clip.sound), member(clip.sound, &Sound::sample_rate_hz),
              member(clip.sound, &Sound::channels), codec(clip.pictures), member(clip.pictures, &Pictures::width),
              member(clip.pictures, &Pictures::height), member(clip.pictures, &Pictures::picture_length))
        .run();
    int position = 0;
    for (const Part& part : clip.parts) write_part(clip.id, position++, part);
    write_clip_notes(clip.id, clip.notes);
    return {};
  });
}

Done Editor::remove(ClipId clip) {
  return attempt([&]() -> Done {
    if (Done open = need_session_of(session_of_clip, clip.value, "clip"); !open) return open;
    Query{database_, "UPDATE still SET clip = NULL WHERE clip = ?1"}.with(clip).run();
    Query{database_, "DELETE FROM clip WHERE id = ?1"}.with(clip).run();
    return {};
  });
}

Done Editor::relink(PartId part, const std::filesystem::path& path) {
  return attempt([&]() -> Done {
    if (path.empty()) return Error{Code::invalid, "The new path is empty. Name the file."};
    if (!Query{database_, "SELECT 1 FROM part WHERE id = ?1"}.with(part).next()) {
      return Error{Code::not_found, "There is no such file in the journal. It may have been removed."};
    }
    const std::string bytes = path.string();
    Query{database_, "UPDATE part SET path = ?2 WHERE id = ?1"}.with(part, Bytes{bytes}).run();
    return {};
  });
}

Done Editor::add(const Unreadable& file) {
  return attempt([&]() -> Done {
    if (file.path.empty()) return Error{Code::invalid, "The unreadable file has no path. Name it."};
    if (Done session = need_session(file.session); !session) return session;
    if (Done camera = need_camera(file.camera); !camera) return camera;
    const std::string path = file.path.string();
    Query{database_,
          "INSERT INTO unreadable (session, camera, path, why) VALUES (?1, ?2, ?3, ?4) "
          "ON CONFLICT (session, path) DO UPDATE SET camera = excluded.camera, why = excluded.why"}
        .with(file.session, file.camera, Bytes{path}, std::string_view{to_utf8(file.why)})
        .run();
    return {};
  });
}

Done Editor::remove_unreadable(SessionId session, const std::filesystem::path& path) {
  return attempt([&]() -> Done {
    if (Done open = need_session(session); !open) return open;
    const std::string bytes = path.string();
    Query{database_, "DELETE FROM unreadable WHERE session = ?1 AND path = ?2"}.with(session, Bytes{bytes}).run();
    return {};
  });
}

void Editor::write_placement(const Placement& placement) {
  Query{database_, "DELETE FROM placement WHERE clip = ?1"}.with(placement.clip).run();
  Query{database_, "INSERT INTO placement (clip, basis, tied) VALUES (?1, ?2, ?3)"}
      .with(placement.clip, word_for(basis_words, placement.basis), placement.tied ? 1 : 0)
      .run();
  Query piece{database_,
              "INSERT INTO piece (clip, position, clip_from_ns, clip_to_ns, session_start_ns, rate_ppb, sigma_ns) "
              "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)"};
  int number = 0;
  for (const Piece& row : placement.pieces) {
    piece.with(placement.clip, number++, row.clip_from, row.clip_to, row.session_start, row.rate_ppb, row.sigma).run();
  }
  Query evidence{database_,
                 "INSERT INTO evidence (clip, position, with_clip, overlap_ns, score_milli, windows, agreed) "
                 "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)"};
  number = 0;
  for (const Evidence& row : placement.evidence) {
    evidence.with(placement.clip, number++, row.with, row.overlap, row.score_milli, row.windows, row.agreed).run();
  }
  Query note{database_, "INSERT INTO placement_note (clip, position, text) VALUES (?1, ?2, ?3)"};
  number = 0;
  for (const std::string& text : placement.notes) {
    note.with(placement.clip, number++, std::string_view{to_utf8(text)}).run();
  }
}

Done Editor::set_placement(const Placement& placement) {
  return attempt([&]() -> Done {
    if (Done open = need_session_of(session_of_clip, placement.clip.value, "clip"); !open) return open;
    if (Done rules = check(placement, *read_clip(database_, placement.clip)); !rules) return rules;
    for (const Evidence& evidence : placement.evidence) {
      if (Done other = need_session_of(session_of_clip, evidence.with.value, "clip"); !other) return other;
    }
    write_placement(placement);
    return {};
  });
}

Done Editor::set_clock(const CameraClock& clock) {
  return attempt([&]() -> Done {
    if (Done session = need_session(clock.session); !session) return session;
    if (Done camera = need_camera(clock.camera); !camera) return camera;
    Query{database_,
          "INSERT INTO camera_clock (session, camera, offset_ns, rate_ppb, known) VALUES (?1, ?2, ?3, ?4, ?5) "
          "ON CONFLICT (session, camera) DO UPDATE SET offset_ns = excluded.offset_ns, rate_ppb = excluded.rate_ppb, "
          "known = excluded.known"}
        .with(clock.session, clock.camera, clock.offset, clock.rate_ppb, clock.known ? 1 : 0)
        .run();
    return {};
  });
}

Result<TieId> Editor::add(const Tie& tie) {
  return attempt([&]() -> Result<TieId> {
    for (const ClipId clip : {tie.clip_a, tie.clip_b}) {
      if (Done open = need_session_of(session_of_clip, clip.value, "clip"); !open) return open.error();
    }
    if (Done rules = check(tie, *read_clip(database_, tie.clip_a), *read_clip(database_, tie.clip_b)); !rules) {
      return rules.error();
    }
    return TieId{
        Query{database_, "INSERT INTO tie (clip_a, at_a_ns, clip_b, at_b_ns) VALUES (?1, ?2, ?3, ?4) RETURNING id"}
            .with(tie.clip_a, tie.at_a, tie.clip_b, tie.at_b)
            .run_for_id()};
  });
}

Done Editor::remove(TieId tie) {
  return attempt([&]() -> Done {
    constexpr const char* session_of_tie = "SELECT session FROM clip WHERE id = (SELECT clip_a FROM tie WHERE id = ?1)";
    if (Done open = need_session_of(session_of_tie, tie.value, "tie"); !open) return open;
    Query{database_, "DELETE FROM tie WHERE id = ?1"}.with(tie).run();
    return {};
  });
}

}  // namespace jigtime::store
