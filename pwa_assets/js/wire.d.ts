/** What goes between phone and server, written from webapp/wire by `python -m tests.vectors.wire`. */

/** One set as the day asked it of each session. */
export interface AskedSet {
  movement: string;
  reps: number;
  load_kg: number;
  range: number;
}

/** One set as it was played: `share` is the part of the day's asked work in its movement, per mille. */
export interface PlayedSet extends AskedSet {
  share: number;
}

/** What the day asked of one arm: how many sessions, and the sets of each; for pages about the past, never for a rule. */
export interface ArmDose {
  sessions: number;
  sets: Array<AskedSet>;
}

/** What a session did with one arm: `worst` is its rating, 0 to 10, or null where it was not rated. */
export interface ArmPlayed {
  sets: Array<PlayedSet>;
  worst?: number | null;
  sharp?: boolean;
  dose?: ArmDose;
}

/** One easing in the middle of a session, at a step of its cue sheet, from 0. */
export interface Eased {
  step: number;
  what: "form" | "leave" | "load" | "range" | "reps";
  movement?: string;
}

/** The three answers after sharp pain; `sign`: whether a sign of an emergency was there. */
export interface SharpAnswers {
  where: string;
  like: string;
  sign: boolean;
}

/** A session that is over. Steps are counted on its cue sheet, times are seconds; `gaps` are absences, in ms of wall time. */
export interface SessionBody {
  routine: number;
  arms: Record<string, ArmPlayed>;
  asked_steps: number;
  done_steps: number;
  active_seconds: number;
  ended: "completed" | "sharp" | "stopped";
  why?: string;
  note?: string;
  gaps?: Array<[number, number]>;
  ways?: Array<string>;
  eased?: Array<Eased>;
  sharp_told?: SharpAnswers;
}

/** Who has seen an arm, and when. */
export interface SeenBy {
  role: "doctor" | "other" | "physiotherapist";
  on: string;
}

/** The screening before the first session: the signs that are true, by id, and how far the list was gone through. */
export interface ScreeningBody {
  asked_list: string;
  reached: "ask_first" | "emergency" | "same_day" | "soon";
  signs: Array<string>;
}

/** The practitioner has agreed to the start in spite of these signs of the screening. */
export interface ClearedBody {
  signs: Array<string>;
  reason: string;
  by: string;
  seen_by?: SeenBy;
}

/** Something that the arm keeps the client from, in the client's words, rated 0 (cannot) to 10 (as before). */
export interface Activity {
  name: string;
  rating: number;
}

/** What a client tells of the arm: `usual` is the pain of an ordinary morning, 0 to 10; body size may be left out. */
export interface IntakeBody {
  arms: Array<string>;
  places: Array<string>;
  usual: number;
  activities: Array<Activity>;
  weights_kg: Array<number>;
  sport_days: number;
  other_care: Array<string>;
  mass_kg?: number;
  height_m?: number;
}

/** The practitioner has read, corrected and confirmed an intake. */
export interface ConfirmedBody {
  by: string;
}

/** One field of the intake that was corrected; of the name and the note, which are private, only that they were. */
export interface IntakeChange {
  field: "area" | "arms" | "height_m" | "mass_kg" | "name" | "note" | "sex";
  was?: string | number | Array<string>;
  now?: string | number | Array<string>;
}

/** The practitioner has corrected an intake: what, why, by whom. It changes no dose. */
export interface IntakeCorrectedBody {
  changes: Array<IntakeChange>;
  reason: string;
  by: string;
}

/** A letter to the practitioner. */
export interface LetterBody {
  text: string;
}

/** A letter of the practice to the client: its text, and the name of who wrote it. */
export interface AnswerBody {
  text: string;
  by: string;
}

/** The ids of letters that were read. */
export interface LettersBody {
  letters: Array<string>;
}

/** The activities that the client is asked about: up to three, in the client's words, the first asked each week. */
export interface NamedBody {
  activities: Array<string>;
}

/** How well an activity can be done, 0 (not at all) to 10 (as before); it is known by its words. */
export interface RatedBody {
  activity: string;
  rating: number;
}

/** From the entry's day on: training, so many days of seven, a rest until a day, or ended; why, by whom, and when to be seen again. */
export interface CourseBody {
  to: "ended" | "maintenance" | "rest" | "training";
  days_a_week?: number;
  until?: string;
  reason: string;
  by: string;
  seen_again_on?: string;
}

/** The morning soreness of one arm, 0 to 10. `besides`: whether there is more than soreness, asked when it lasts. */
export interface ArmMorning {
  pain: number;
  sharp?: boolean;
  besides?: boolean;
}

/** A morning report, about the day before. `late`: it was entered on a later day than its own. */
export interface MorningBody {
  arms: Record<string, ArmMorning>;
  late?: boolean;
}

/** What days without the app were, both days included, and what happened meanwhile. */
export interface AwayBody {
  first: string;
  last: string;
  what: "ill" | "no_time" | "other" | "sore" | "travelling" | "without_phone";
  happened?: Array<string>;
}

/** How one arm felt in sport: its worst, 0 to 10, or null before it is told. */
export interface ArmSport {
  worst: number | null;
  sharp?: boolean;
}

/** Sport, lifting or a long day at a desk: how long, the client's own word for it, when it begins (HH:MM), whether it is yet to come. */
export interface ExposureBody {
  what: "desk" | "lifting" | "sport";
  minutes?: number | null;
  name?: string;
  begins?: string;
  planned?: boolean;
  step?: number;
  up?: boolean;
  arms?: Record<string, ArmSport>;
  amount?: "asked" | "fewer" | "more";
  strokes?: number;
}

/** Whether a habit was kept, and whether it suits; without `suits` it does. `chosen`: the entry that chose it. */
export interface HabitBody {
  habit: string;
  kept: boolean;
  suits?: boolean;
  chosen?: string;
}

/** The one habit that the practice chose, "" for none, and who chose it. */
export interface ChosenBody {
  habit: string;
  by: string;
}

/** The end of a hold: at most this rung and range. `covers` names the sharp entries that the practitioner had read. */
export interface ArmReleased {
  rung: number;
  range: number;
  covers: Array<string>;
  reason: string;
  by: string;
  seen_by?: SeenBy;
}

/** A release, by arm. */
export interface ReleaseBody {
  arms: Record<string, ArmReleased>;
}

/** A way back is open: its ladder, the step it begins with, who has seen the arm, why, by whom. */
export interface WayBody {
  ladder: string;
  step: number;
  gate: Array<string>;
  ticked?: Array<string>;
  seen_by?: SeenBy;
  reason: string;
  by: string;
}

/** A way back is ended: the reason that the client reads, and who ended it. */
export interface WayEndedBody {
  reason: string;
  by: string;
}

/** A routine version that came, and the hash of its bundle. */
export interface ReceivedBody {
  version: number;
  bundle?: string;
}

/** A note that was read, by the version it came with. */
export interface ReadBody {
  version: number;
}

/** A warning sign and the arms that it stops; without `holds` it stops them. */
export interface WarningBody {
  sign: string;
  arms: Array<string>;
  holds?: boolean;
}

/** A correction: the body that takes the place of an earlier entry's; null withdraws the entry. */
export interface CorrectionBody {
  replaces: string;
  body?: object | null;
}

/** What every entry holds: `on` is the local day from 03:00, `at` the instant (UTC), `seq` the device's counter from 1. */
export interface Entry {
  id: string;
  v: number;
  on: string;
  at: string;
  zone: string;
  seq: number;
}

/** A session is over. */
export interface SessionFinished extends Entry {
  kind: "session_finished";
  body: SessionBody;
}

/** A morning was reported. */
export interface MorningReported extends Entry {
  kind: "morning_reported";
  body: MorningBody;
}

/** Days without the app were told of. */
export interface AwayNoted extends Entry {
  kind: "away_noted";
  body: AwayBody;
}

/** Something besides the routine loaded the arm. */
export interface ExposureNoted extends Entry {
  kind: "exposure_noted";
  body: ExposureBody;
}

/** A habit was ticked. */
export interface HabitNoted extends Entry {
  kind: "habit_noted";
  body: HabitBody;
}

/** A letter was written. */
export interface LetterWritten extends Entry {
  kind: "letter_written";
  body: LetterBody;
}

/** The practice wrote to the client. */
export interface LetterAnswered extends Entry {
  kind: "letter_answered";
  body: AnswerBody;
}

/** The practice has read letters of the client. */
export interface LetterSeen extends Entry {
  kind: "letter_seen";
  body: LettersBody;
}

/** The client has read letters of the practice. */
export interface LetterRead extends Entry {
  kind: "letter_read";
  body: LettersBody;
}

/** A routine version came to the phone. */
export interface RoutineReceived extends Entry {
  kind: "routine_received";
  body: ReceivedBody;
}

/** A note was read. */
export interface NoteRead extends Entry {
  kind: "note_read";
  body: ReadBody;
}

/** A warning sign was reported. */
export interface WarningRaised extends Entry {
  kind: "warning_raised";
  body: WarningBody;
}

/** The client went through the list of warning signs before the first session. */
export interface ScreeningAnswered extends Entry {
  kind: "screening_answered";
  body: ScreeningBody;
}

/** The practice agreed to the start. */
export interface ScreeningCleared extends Entry {
  kind: "screening_cleared";
  body: ClearedBody;
}

/** The practice wrote down the client's own activities. */
export interface ActivitiesNamed extends Entry {
  kind: "activities_named";
  body: NamedBody;
}

/** The client rated one of them. */
export interface ActivityRated extends Entry {
  kind: "activity_rated";
  body: RatedBody;
}

/** The client told the intake. */
export interface IntakeTold extends Entry {
  kind: "intake_told";
  body: IntakeBody;
}

/** The practice confirmed the intake. */
export interface IntakeConfirmed extends Entry {
  kind: "intake_confirmed";
  body: ConfirmedBody;
}

/** The practice corrected the intake. */
export interface IntakeCorrected extends Entry {
  kind: "intake_corrected";
  body: IntakeCorrectedBody;
}

/** An earlier entry was corrected or withdrawn. */
export interface EntryCorrected extends Entry {
  kind: "entry_corrected";
  body: CorrectionBody;
}

/** The practice ended a hold. */
export interface HoldReleased extends Entry {
  kind: "hold_released";
  body: ReleaseBody;
}

/** The practice chose a habit. */
export interface HabitChosen extends Entry {
  kind: "habit_chosen";
  body: ChosenBody;
}

/** The practice set the course: training, maintenance, or ended. */
export interface CourseSet extends Entry {
  kind: "course_set";
  body: CourseBody;
}

/** The practice opened the way back to a sport or to work. */
export interface ReturnOpened extends Entry {
  kind: "return_opened";
  body: WayBody;
}

/** The practice ended it. */
export interface ReturnEnded extends Entry {
  kind: "return_ended";
  body: WayEndedBody;
}

/** One step of a way back: at most so many days of seven, so many minutes each, so many strokes (0: not counted), and what it adds. */
export interface WayStep {
  days_a_week: number;
  minutes: number;
  least_minutes: number;
  most_strokes: number;
  adds: string;
}

/** The steps of one way back, in words. `moves`: by move, then by step, the step that follows. */
export interface WayLadder {
  name: string;
  text: string;
  caution: string;
  strokes: string;
  steps: Array<WayStep>;
  moves: Array<Array<number>>;
}

/** What so many days without sport do: by row the row that follows, the move, the rule. */
export interface WayAway {
  days: number;
  next: Array<number>;
  move: number;
  why: string;
}

/** The table of the ways back: see `webapp.dosing.returning.table.GoTable`. A column of `next` holds differences, as in the almanac. */
export interface Way {
  columns: Record<string, number>;
  next: Array<Array<number>>;
  moves: Array<number>;
  why: Array<Array<number>>;
  rules: Array<string>;
  away: Array<WayAway>;
  passed: Record<string, string>;
  free: Record<string, string>;
  mode: Array<string>;
  settled: Array<number>;
  days: Array<number>;
  feels: Record<string, string>;
  order: Array<string>;
  flares: Array<string>;
  raises: Array<string>;
  apart: number;
  flare_days: number;
  step_days: number;
  says: Record<string, string>;
  ladders: Record<string, WayLadder>;
}

/** Which routine version it is, and the practitioner's note with it. */
export interface RoutineHead {
  version: number;
  title: string;
  note: string;
}

/** What days without a session do to a row: `by_day` names the column for each day of the gap, "" for none. */
export interface Gap {
  columns: Record<string, Array<number>>;
  by_day: Array<string>;
  half_way: Array<number>;
  reasons: Record<string, string>;
}

/** Where a held row may come back: `of` points, by row, into `offers`; an offer is (rung, ease, row). */
export interface Releases {
  of: Record<string, number>;
  offers: Array<Array<[number, number, number]>>;
}

/** The closed table: by response, then by row, the row that follows; by row, what it is and asks. */
export interface Almanac {
  responses: Array<string>;
  letters: Record<string, string>;
  idle: Array<string>;
  next: Array<Array<number>>;
  why: Array<number>;
  whys: Array<Array<Array<string>>>;
  dose: Array<number>;
  rung: Array<number>;
  ease: Array<number>;
  mode: Array<"held" | "resting" | "training">;
  streak: Array<number>;
  rest: Array<number>;
  gap: Gap;
  release: Releases;
}

/** One set: kilograms, and the share of the full range. `load` is the weight as a person reads it. */
export interface DoseSet {
  movement: string;
  direction: string;
  reps: number;
  load_kg: number;
  load: string;
  range: number;
}

/** One stretch, in seconds. */
export interface Hold {
  movement: string;
  seconds: number;
}

/** One warm-up. */
export interface WarmUp {
  movement: string;
  reps: number;
}

/** What one day asks. `sheet` is null where it asks for no session; then `short` and `sport` are not there. */
export interface Dose {
  mode: "held" | "resting" | "training";
  sessions: number;
  minutes: number;
  work_j: number;
  sets: Array<DoseSet>;
  holds: Array<Hold>;
  warm_ups: Array<WarmUp>;
  summary: Array<string>;
  sheet: number | null;
  short?: number;
  sport?: [number, number];
}

/** One step of a cue sheet, in seconds, with its words. `up` and `down` are the halves of one rep. */
export interface Step {
  kind: "change_arm" | "done" | "hold" | "prepare" | "reps" | "rest" | "warm_up";
  movement: string | null;
  seconds: number;
  reps: number;
  up: number;
  down: number;
  range: number;
  load: string;
  name: string;
  cue: string;
  hint: string;
}

/** What is said on the way up and on the way down. */
export interface Cues {
  up: string;
  down: string;
}

/** What a movement of a practice's own has beside: the phone has no page of it otherwise. */
export interface OwnPart {
  like: string;
  how: Array<string>;
  purpose: string;
  cautions: Array<string>;
  up?: number;
  down?: number;
}

/** The words of a movement; `own` where it is one of the practice's own. */
export interface Movement {
  name: string;
  mistakes: Array<string>;
  leave_out: string | null;
  cues: Cues;
  own?: OwnPart;
}

/** A warning sign: whether it is about the whole body, and whether it holds an arm. */
export interface Sign {
  id: string;
  level: string;
  is_whole: boolean;
  holds: boolean;
  text: string;
}

/** How far apart the sessions of one day are, in hours, and the latest start of one that is not the first, in hours from midnight. */
export interface Apart {
  hours: number;
  latest: number;
}

/** When the phone asks for more, in days. */
export interface Asks {
  late: number;
  away: number;
  long_away: number;
  sore_days: number;
  activity_weeks: Array<number>;
  week_reports: number;
  sore: Array<string>;
}

/** A habit in words, with what to take care of and what it rests on. */
export interface Habit {
  name: string;
  text: string;
  caution: string;
  basis: string;
}

/** The whole of it. `hash` is that of all the rest, 32 hexadecimal digits. */
export interface Bundle {
  hash: string;
  format: number;
  locale: string;
  routine: RoutineHead;
  arms: Array<string>;
  usual: number;
  almanac: Almanac;
  doses: Array<Dose>;
  sheets: Array<Array<number>>;
  steps: Array<Step>;
  counts: Array<Array<number>>;
  timing: Record<string, [number, number, number]>;
  cube: string;
  ranges: Array<number>;
  rep_work: Record<string, Array<[number, number, number]>>;
  why: Record<string, string>;
  movements: Record<string, Movement>;
  responses: Record<string, string>;
  change_arm: Record<string, Step>;
  ends_day: Array<string>;
  apart: Apart;
  asks: Asks;
  habits: Record<string, Habit>;
  way: Way;
  warnings: Array<Sign>;
  to_do: Record<string, string>;
  to_know: Record<string, string>;
  caution: string;
}

/** The last change of what is asked of an arm: the day from which on, and the ids of the rules that changed it. */
export interface LastChange {
  on: string;
  why: Array<string>;
}

/** Where an arm may stand at the start of a day, for each response to the day before. */
export interface Starts {
  states: Array<[number, number, number]>;
  why: Array<Array<string>>;
  changed: Array<LastChange | null>;
}

/** Where the way back stands at the start of the day `on`, and what the practitioner wrote. */
export interface WayStart {
  ladder: string;
  opened: string;
  reason: string;
  by: string;
  on: string;
  step: number;
  row: number;
  lately: number;
  away: number;
  flare: number;
  is_clear: boolean;
}

/** One arm at the start of the day `on`: see `webapp.sync.folding.anchors.Anchor`. `way`: the way back, the same in each arm's anchor. */
export interface Anchor extends Starts {
  on: string;
  mornings: Array<number | null>;
  asked: boolean;
  cube?: string;
  if_troubled?: Starts;
  way?: WayStart;
}

/** A phone that has opened a link and wants to know whose it is. */
export interface LinkRequest {
  token: string;
}

/** The practitioner, as the phone shows them; all but the name may be empty. */
export interface PractitionerShown {
  name: string;
  telephone: string;
  hours: string;
  email: string;
  letters_read: string;
}

/** Whose invitation a link is, for which arms, whether this phone has joined already, and whether it is a group's link. */
export interface LinkOffer {
  practitioner: PractitionerShown;
  arms: Array<string>;
  is_joined: boolean;
  is_group: boolean;
}

/** A phone that wants to join, by a link's token or by a code. */
export interface JoinRequest {
  token: string;
  code: string;
  device_name: string;
  agreed: string;
  key: string;
  first_name: string;
}

/** Whose phone it is. */
export interface ClientId {
  id: string;
}

/** Who a phone is joined as. */
export interface JoinedAs {
  client: ClientId;
  device: string;
  locale: string;
}

/** A code for another place of the same client, and for how many seconds it is good. */
export interface HomeCode {
  code: string;
  seconds: number;
}

/** At what local time each reminder comes; null for none. */
export interface ReminderTimes {
  morning: string | null;
  session: string | null;
  second: string | null;
}

/** A phone keeps its calendar's address up to date: `key` is what it has, empty for none; no time at all ends that address. */
export interface FeedRequest {
  times: ReminderTimes;
  key: string;
}

/** The secret part of a calendar's address; empty where there is no address any more. */
export interface FeedAddress {
  key: string;
}

/** A sync: what the phone sends and what it has. `sent_at`, `zone` and `device` are for people, and never believed. */
export interface SyncRequest {
  format: number;
  client: string;
  on: string;
  events: Array<AnyEntry>;
  cursor: number;
  epoch: string | null;
  bundle: string | null;
  locale: string;
  device: string;
  zone: string;
  sent_at: string;
}

/** What became of one entry that was sent, with a sentence where it was refused. */
export interface Result {
  id: string;
  status: "conflict" | "duplicate" | "rejected" | "stored";
  code: string;
  message: string;
  again: boolean;
}

/** An entry of the log with its number in it. */
export interface Told {
  seq: number;
  event: AnyEntry;
}

/** The client, as the phone shows them. */
export interface ClientShown {
  id: string;
  name_shown: string;
}

/** What the first session still waits for, as far as the server knows; `asks_intake`: the client tells the intake. */
export interface Start {
  waits_for: "intake" | "nothing" | "practitioner" | "screening";
  asks_intake: boolean;
}

/** The answer to a sync. `bundle` is null where the phone has the one in force. */
export interface Reply {
  format: number;
  epoch: string;
  results: Array<Result>;
  cursor: number;
  events: Array<Told>;
  more: boolean;
  client: ClientShown;
  practitioner: PractitionerShown;
  start: Start;
  bundle: Bundle | null;
  bundle_hash: string | null;
  anchors: Record<string, Anchor>;
  received_at: string;
}

/** Why a request was refused: a stable code, a sentence, and whether the same may go through later. */
export interface Refusal {
  code: string;
  message: string;
  again: boolean;
}

/** A refused request. */
export interface Refused {
  error: Refusal;
}

/** Every kind of entry that is known. */
export type AnyEntry =
  | SessionFinished
  | MorningReported
  | AwayNoted
  | ExposureNoted
  | HabitNoted
  | LetterWritten
  | LetterAnswered
  | LetterSeen
  | LetterRead
  | RoutineReceived
  | NoteRead
  | WarningRaised
  | ScreeningAnswered
  | ScreeningCleared
  | ActivitiesNamed
  | ActivityRated
  | IntakeTold
  | IntakeConfirmed
  | IntakeCorrected
  | EntryCorrected
  | HoldReleased
  | HabitChosen
  | CourseSet
  | ReturnOpened
  | ReturnEnded;
