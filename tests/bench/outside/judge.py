"""Verdicts on a session: each clip, each loss, each stranger against the truth. See Score for what is counted."""

from dataclasses import dataclass, field

import numpy

from explain import errors_text, longest_overlap, losses_text
from losses import judge_losses
from session_clock import clips_of, fit_clock, stretches_of, tied_together
from ties import SMALLEST_LOSS_S

RIGHT_S = 0.030
CLOSE_S = 0.008
CLOCK_SIGMAS = 3
CLOCK_RIGHT_S = 5.0
MISSED_OVERLAP_S = 30.0


@dataclass
class Score:
    """The counts of one session; problems tells each of them in words, and apart_s how far groups lie from
    the largest one; sigmas has the difference of every two right clips' errors over the doubt of both."""

    seed: int
    snr_db: float
    cameras: int
    clips: int = 0
    audio_right: int = 0
    audio_close: int = 0
    audio_wrong: int = 0
    audio_doubt: int = 0
    beyond_loss: int = 0
    clock_right: int = 0
    clock_wrong: int = 0
    unplaced: int = 0
    missed: int = 0
    strangers: int = 0
    strangers_by_audio: int = 0
    strangers_by_clock: int = 0
    losses: int = 0
    losses_found: int = 0
    losses_misplaced: int = 0
    losses_missed: int = 0
    losses_unheard: int = 0
    losses_invented: int = 0
    joined_wrongly: int = 0
    unreadable: int = 0
    align_wall_s: float = 0.0
    sigmas: list = field(default_factory=list)
    apart_s: list = field(default_factory=list)
    problems: list = field(default_factory=list)


class Judge:
    """Compares one answer with one truth."""

    def __init__(self, truth, answer):
        self.truth, self.answer = truth, answer
        self.files = {part.file: (recording, part) for recording in truth.recordings for part in recording.parts}
        self.score = Score(truth.seed, truth.snr_db, len(truth.cameras), clips=len(answer.clips), unreadable=len(answer.unreadable),
                           align_wall_s=round(answer.wall_s, 2))
        self.clocks, self.main_clock, self.right = {}, None, []
        self.fit()

    def recording(self, clip):
        """The true recording of a clip's first file."""
        return self.files[clip.name][0]

    def is_stranger(self, clip):
        """Whether any file of a clip is another day's."""
        return any(self.files[file][0].stranger for file, _ in clip.parts)

    def by_sound(self):
        """The session's own clips that were placed by sound."""
        return [clip for clip in self.answer.clips if clip.basis == "audio" and clip.pieces and not self.is_stranger(clip)]

    def fit(self):
        """Fits the session clock to each group; a whole clip that nothing ties to another is judged against the largest group."""
        groups = tied_together([stretch for clip in self.by_sound() for stretch in stretches_of(clip, self.files)])
        for index, stretches in enumerate(groups):
            elsewhere = clips_of([stretch for rows in groups if rows is not stretches for stretch in rows])
            alone = index > 0 and len(clips_of(stretches)) == 1 and not clips_of(stretches) & elsewhere
            clock = self.main_clock if alone else fit_clock(stretches)
            self.main_clock = self.main_clock or clock
            if clock is not self.main_clock:
                self.score.apart_s.append(round(clock.offset_s - self.main_clock.offset_s, 3))
            self.clocks |= {self.key(stretch): clock for stretch in stretches}

    @staticmethod
    def key(stretch):
        """What tells a stretch from others."""
        return id(stretch.clip), id(stretch.placed), id(stretch.true_piece), stretch.begin_s

    def fit_to_clocks(self):
        """Without any sound, the session clock that the placed clips agree on best."""
        stretches = [stretch for clip in self.answer.clips if not self.is_stranger(clip) for stretch in stretches_of(clip, self.files)]
        if stretches:
            self.main_clock = fit_clock(stretches)
            self.main_clock.offset_s = float(numpy.median([self.main_clock.errors_s(stretch)[1] for stretch in stretches]) + self.main_clock.offset_s)

    def tell(self, kind, clip, text):
        """Notes a problem in words, with what the truth knows about the clip."""
        recording = self.recording(clip)
        self.score.problems.append(f"{kind}: {clip.camera}/{clip.name} {clip.duration_s:.0f} s, {text}; clock {recording.clock_kind}, "
                                   f"snr {self.truth.snr_db:.0f} dB")

    def judge_audio(self, clip):
        """A clip of the session that was placed by sound."""
        rows = [(stretch, self.clocks[self.key(stretch)].errors_s(stretch)) for stretch in stretches_of(clip, self.files)]
        worst = numpy.array([numpy.abs(errors_s).max() for _, errors_s in rows])
        if worst.size == 0:
            self.tell("too short to be judged", clip, f"{len(clip.pieces)} pieces")
            return
        if worst.max() <= RIGHT_S:
            self.score.audio_right += 1
            self.score.audio_close += int(worst.max() <= CLOSE_S)
            self.note_error(clip, rows)
            return
        sigmas_s = numpy.array([stretch.placed.sigma_s for stretch, _ in rows])
        if numpy.all(worst <= numpy.maximum(RIGHT_S, CLOCK_SIGMAS * sigmas_s)):
            self.score.audio_doubt += 1
            self.tell("off, but within the doubt told", clip, f"errors {errors_text(rows)}")
            return
        self.judge_wrong(clip, rows, worst)

    def note_error(self, clip, rows):
        """Compares the error of a clip's longest stretch with those of the clips judged before, in the doubt of both together."""
        stretch, errors_s = max(rows, key=lambda row: row[0].length_s)
        clock, error_s, sigma_s = self.clocks[self.key(stretch)], float(errors_s[1]), stretch.placed.sigma_s
        for other_clock, other_error_s, other_sigma_s in self.right:
            if other_clock is clock:
                self.score.sigmas.append(round((error_s - other_error_s) / max(1e-6, float(numpy.hypot(sigma_s, other_sigma_s))), 2))
        self.right.append((clock, error_s, sigma_s))

    def judge_wrong(self, clip, rows, worst):
        """A clip with a wrong stretch: is only what lies beyond a loss wrong, or the clip?"""
        lost = [loss for loss in self.recording(clip).losses if loss.length_s > SMALLEST_LOSS_S]
        beyond = bool(lost) and worst.min() <= RIGHT_S
        self.score.beyond_loss += int(beyond)
        self.score.audio_wrong += int(not beyond)
        self.tell("beyond a loss" if beyond else "WRONG BY SOUND", clip,
                  f"errors {errors_text(rows)}; true losses {losses_text(lost)}; heard with {clip.partners}; "
                  f"best overlap {self.best_overlap(clip)[1]}")

    def judge_clock(self, clip):
        """A clip of the session that was placed by its clock."""
        if self.main_clock is None:
            self.fit_to_clocks()
        wrong = []
        for stretch in stretches_of(clip, self.files):
            error_s = float(numpy.abs(self.main_clock.errors_s(stretch)).max())
            if error_s > max(CLOCK_RIGHT_S, CLOCK_SIGMAS * stretch.placed.sigma_s):
                wrong.append(f"{error_s:.1f} s (sigma {stretch.placed.sigma_s:.1f} s)")
        self.score.clock_wrong += int(bool(wrong))
        self.score.clock_right += int(not wrong)
        if wrong:
            self.tell("wrong by clock", clip, ", ".join(wrong))

    def best_overlap(self, clip):
        """The longest time a clip ran together with one that was placed, in seconds and in words."""
        placed = [other for other in self.answer.clips if other.pieces and other is not clip and not self.is_stranger(other)]
        return longest_overlap(self.truth, self.recording(clip), [self.recording(other) for other in placed])

    def judge_missed(self, clip):
        """A clip that sound did not place: could it have?"""
        seconds, text = self.best_overlap(clip)
        if seconds >= MISSED_OVERLAP_S:
            self.score.missed += 1
            self.tell("missed by sound", clip, f"placed by {clip.basis}, overlap {text}")

    def judge_stranger(self, clip):
        """A clip of another day."""
        self.score.strangers += 1
        self.score.strangers_by_audio += int(clip.basis == "audio")
        self.score.strangers_by_clock += int(clip.basis == "clock")
        if clip.basis == "audio":
            self.tell("STRANGER PLACED BY SOUND", clip, f"heard with {clip.partners}, songs {self.truth.songs_of_strangers} in {self.truth.songs}")

    def judge_parts(self, clip):
        """Are all files of a clip parts of one recording?"""
        if len({id(self.files[file][0]) for file, _ in clip.parts}) > 1:
            self.score.joined_wrongly += 1
            stamps = ", ".join(f"{file} {self.files[file][1].creation_time}" for file, _ in clip.parts)
            self.tell("joined what is not one recording", clip, f"placed by {clip.basis}; {stamps}")

    def judge_clip(self, clip):
        """Any clip."""
        self.judge_parts(clip)
        if self.is_stranger(clip):
            self.judge_stranger(clip)
            return
        if clip.basis == "audio":
            self.judge_audio(clip)
            return
        self.judge_missed(clip)
        if clip.pieces:
            self.judge_clock(clip)
        else:
            self.score.unplaced += 1

    def judge_all(self):
        """Every clip and every loss."""
        for clip in self.answer.clips:
            self.judge_clip(clip)
        judge_losses(self)
        missing = set(self.files) - {file for clip in self.answer.clips for file, _ in clip.parts}
        self.score.problems += [f"not in the answer: {file}" for file in sorted(missing)]
        return self.score
