import * as v from 'valibot'
import {
  above0,
  airC,
  anyObject,
  type Checked,
  check,
  duty,
  fields,
  id8,
  id40,
  list,
  number,
  oneOf,
  partC,
  rh,
  sha256Hex,
  text,
  utcMs,
  whole,
  yesNo,
} from './accept.ts'
import { CLEARED_BY } from './climate/context.ts'
import { CLEARANCE_MOST_MIN } from './climate/fold.ts'
import { rangeSchema } from './climate/range.ts'
import { rule } from './contract/wrongField.ts'
import { STORED_CHECKS } from './cup/checks.ts'
import { levelSchema } from './devices/level.ts'
import { GUN_COMMANDS } from './gun/gunCommands.ts'
import type { AsTyped, Given } from './inputTypes.ts'
import { COLOUR_COMMANDS } from './job/colourCommands.ts'
import { COAT_COMMANDS, litresMl, panels } from './panel/coatCommands.ts'
import { OPERATIONS } from './panel/context.ts'
import { INSPECTIONS } from './panel/events.ts'
import { HAND_COMMANDS, override, routeIndex } from './panel/handCommands.ts'
import { type RouteStep, stepSchema } from './panel/stepSchema.ts'
import { ROLES } from './people/context.ts'
import { RECORD_COMMANDS } from './records/commands.ts'
import { sheetFileSchema } from './sheet/file.ts'
import { sheetSchema } from './sheet/sheetSchema.ts'
import { shopFigureSchema } from './sheet/shopFigure.ts'
import { settingsSchema } from './shop/settingsSchema.ts'

/** The data of every command. The type of a command is the key; its shape is the value. */

const areaM2 = above0(100, 'm2')
/** A clock may show anything: this is the whole range of a Date. */
const anyMs = whole(-8_640_000_000_000_000, 8_640_000_000_000_000, '(UTC milliseconds)')

const route = list(stepSchema, 1, 60)

const lotSchema = v.lazy((given) =>
  typeof given === 'string' ? text(60) : fields({ name: text(60), lot: text(60) }),
)
const addition = fields({ name: text(60), ml: litresMl })

export const COMMANDS = {
  SaveSheet: fields({ sheet: sheetSchema }),
  RetireSheet: fields({ sheet: id40 }),
  /** Sheets of a file, all or none. What is as it was is not saved again. */
  ImportSheets: sheetFileSchema,
  /** What the shop does where a sheet is silent: asked once. */
  SetShopFigure: shopFigureSchema,
  SaveGun: fields({
    gun: id40,
    name: v.optional(text(60)),
    needleMm: v.optional(above0(10, 'mm')),
    airLpm: v.optional(above0(5_000, 'L/min')),
    inletKpa: v.optional(above0(1_500, 'kPa')),
  }),
  SaveZone: fields({
    zone: id40,
    name: v.optional(text(60)),
    clearanceMin: v.optional(number(0, CLEARANCE_MOST_MIN, 'min')),
    /** Whether coats go on here: panels stand here without being asked where. Yes, but for the bench. */
    sprayed: v.optional(yesNo),
    opensTo: v.optional(list(id40, 0, 20)),
    purgeMin: v.optional(number(0, 60, 'min')),
    coolMin: v.optional(number(0, 240, 'min')),
    lagC: v.optional(number(0, 40, '°C')),
    /** How many jobs stand in it at once; a plan keeps to that. */
    fitsJobs: v.optional(whole(1, 60, 'jobs')),
    /** No: it stands on no list any more, unless a panel is in it. What happened there stays. */
    inUse: v.optional(yesNo),
  }),
  /** A zone without a clearance time was found to be clear of what was sprayed in it. */
  ClearZone: fields({ zone: id40, how: oneOf(CLEARED_BY) }),
  /** Its air is moved for so long from now on: heat waits for that. */
  PurgeZone: fields({ zone: id40, minutes: above0(60, 'min') }),
  ChangeSettings: settingsSchema,
  SaveAirSupply: fields({
    air: id40,
    name: v.optional(text(60)),
    receiverL: above0(20_000, 'L'),
    freeAirLpm: above0(50_000, 'L/min'),
    cutOutKpa: above0(1_500, 'kPa'),
    /** The share of the time that it may run; all of it without. */
    duty: v.optional(duty),
  }),
  AddPerson: fields({ person: id40, name: text(60), role: oneOf(ROLES) }),
  RetirePerson: fields({ person: id40 }),
  TestSound: fields({ pattern: text(20), heard: yesNo, place: v.optional(text(60)) }),
  CommissionLevel: levelSchema,
  /** The display is kept awake no longer while a timer runs: the lock was lost, or never given. */
  ReportSleep: fields({ why: oneOf(['lost', 'refused']) }),
  /** The clock of the server's computer made a step: what it would have shown, and what it showed. */
  ReportClockJump: fields({ fromMs: anyMs, toMs: anyMs }),
  /** The time now, as a person knows it. */
  ConfirmClock: fields({ nowMs: utcMs }),
  SetAirMovers: fields({ zone: id40, on: yesNo }),
  /** Between what a zone's air stays until the shop closes, or over the night: for who has no sensor. */
  SetDayRange: rangeSchema,
  ReadClimate: fields({ zone: id40, airC, rh, surfaceC: v.optional(partC) }),
  OpenJob: fields({
    job: id8,
    title: text(120),
    vehicle: v.optional(text(120)),
    colours: v.optional(
      list(
        fields({
          key: text(40),
          code: text(60),
          kind: v.optional(text(40)),
          variant: v.optional(text(60)),
        }),
        0,
        12,
      ),
      [],
    ),
  }),
  /** The warmest that a job's vehicle may become; null where no limit is known. */
  SetHeatLimit: fields({ job: id8, maxC: v.nullable(number(25, 250, '°C')) }),
  ...COLOUR_COMMANDS,
  PauseJob: fields({ job: id8 }),
  ResumeJob: fields({ job: id8 }),
  CloseJob: fields({ job: id8, override }),
  ReopenJob: fields({ job: id8 }),
  AddNote: fields({ job: id8, panel: v.optional(id8), text: text(2_000) }),
  /** The picture itself is kept by its SHA-256 beside the log. */
  AddPhoto: fields({
    job: id8,
    panel: v.optional(id8),
    photo: sha256Hex,
    caption: v.optional(text(200)),
  }),
  AddPanel: fields({
    job: id8,
    panel: id8,
    name: text(80),
    operation: oneOf(OPERATIONS),
    substrate: v.optional(text(60)),
    areaM2: v.optional(areaM2),
    zone: v.optional(id40),
    route,
  }),
  MovePanel: fields({ panel: id8, zone: id40, override }),
  RemovePanel: fields({ panel: id8 }),
  SetRoute: fields({ panel: id8, route }),
  ...HAND_COMMANDS,
  SkipStep: fields({ panel: id8, step: routeIndex, reason: text(200) }),
  ...RECORD_COMMANDS,
  ...COAT_COMMANDS,
  InspectCoat: fields({ panel: id8, result: oneOf(INSPECTIONS) }),
  ReachCover: fields({ panel: id8, override }),
  /** `setC`: what a bake is set to. */
  StartCure: fields({
    panels,
    mode: oneOf(['air', 'bake', 'infrared']),
    setC: v.optional(number(25, 250, '°C')),
    override,
  }),
  /** A measured temperature, or without one: the part is at the temperature that its bake wants. */
  ReadPart: fields({ panel: id8, partC: v.optional(partC) }),
  EndCure: fields({ panels }),
  PassPanel: fields({ panel: id8, override }),
  SendBackPanel: fields({
    panel: id8,
    toStep: routeIndex,
    done: whole(0, 20),
    reason: text(200),
    /** The film was taken off, down to what still counts. */
    stripped: v.optional(yesNo),
  }),
  MixCup: fields({
    cup: id8,
    sheet: id40,
    totalMl: litresMl,
    job: v.optional(id8),
    /** Other jobs that it is mixed for as well: each has a color of the same code and variant. */
    alsoFor: v.optional(list(id8, 1, 11)),
    colour: v.optional(text(40)),
    /** Tinted by hand: the variant that this made, such as T1. */
    tint: v.optional(text(20)),
    activator: v.optional(text(60)),
    reducer: v.optional(text(60)),
    additives: v.optional(
      list(fields({ role: v.optional(text(40)), name: text(60), ml: v.optional(litresMl) }), 0, 12),
    ),
    pouredG: v.optional(list(number(0, 200_000, 'g'), 0, 20)),
    /** The step of the scale that it was weighed with. */
    scaleG: v.optional(above0(50, 'g')),
    zone: v.optional(id40, 'bench'),
    lots: v.optional(list(lotSchema, 0, 20)),
  }),
  PourCup: fields({
    cup: id8,
    from: v.pipe(
      list(fields({ cup: id8, ml: v.optional(litresMl) }), 1, 12),
      v.check((all) => new Set(all.map((f) => f.cup)).size === all.length, rule('noneTwice', {})),
    ),
    add: v.optional(list(fields({ role: text(40), ...addition.entries }), 0, 12), []),
    /** The full mark of the printed cup in which it was measured. */
    markMl: v.optional(litresMl),
    override,
  }),
  /** `byHand`: it did not print, and its words were written on the cup. */
  PrintLabel: fields({ cup: id8, byHand: v.optional(yesNo) }),
  /** What was done with a stored mix before its first use of a later day. */
  CheckCup: fields({ cup: id8, done: list(oneOf(STORED_CHECKS), 1, 3) }),
  /** What is really in a cup, as somebody weighed or saw it. */
  MeasureCup: fields({ cup: id8, leftMl: number(0, 200_000, 'mL') }),
  MoveCup: fields({ cup: id8, zone: id40 }),
  EmptyCup: fields({
    cup: id8,
    how: oneOf(['used', 'discarded']),
    leftMl: v.optional(number(0, 200_000, 'mL')),
  }),
  ...GUN_COMMANDS,
  /** `wasHeard` is false where the kiosk had no sound: the bell was only seen. */
  RingBell: fields({ key: text(120), wasHeard: v.optional(yesNo) }),
  AcknowledgeBell: fields({ key: text(120) }),
  SnoozeBell: fields({ key: text(120), minutes: whole(1, 10, 'min') }),
  EscalateBell: fields({ key: text(120), to: oneOf(['zone', 'lead', 'shop']) }),
  /** It called again and again within a minute, and is quiet for a minute. */
  HoldBell: fields({ key: text(120) }),
  /** So many bells ring on a kiosk that only the most urgent kind sounds, or not any more. */
  ReportFlood: fields({ isOn: yesNo, count: whole(0, 1_000, 'bells') }),
  VoidEntry: v.pipe(
    fields({
      entry: v.optional(text(60)),
      command: v.optional(id40),
      reason: text(200),
      replace: v.optional(fields({ type: text(40), at: v.optional(utcMs), data: anyObject })),
    }),
    v.check(
      (d) => (d.entry === undefined) !== (d.command === undefined),
      rule('entryOrCommand', {}),
    ),
  ),
} as const

export type CommandType = keyof typeof COMMANDS
export type CommandData<T extends CommandType> = v.InferOutput<(typeof COMMANDS)[T]>

/** The data of a command as it is sent: what has a default may be left out. */
export type CommandInput<T extends CommandType> = Given<v.InferInput<(typeof COMMANDS)[T]>>

type KeysOf<V> = V extends unknown ? keyof V : never

/**
 * Data with a field that no command of this type has: it fits nothing. A spread hides a misspelt
 * field from the compiler's own check, and most optional fields are spread into the data.
 */
export type Misspelt<T extends CommandType, D> = {
  readonly [K in Exclude<KeysOf<D>, KeysOf<CommandInput<T>>>]: never
}

export type { AsTyped, RouteStep }

export const isCommand = (type: unknown): type is CommandType =>
  typeof type === 'string' && Object.hasOwn(COMMANDS, type)

/** The data of a command, or every field of it that is wrong. */
export const checkInput = <T extends CommandType>(
  type: T,
  data: object,
): Checked<CommandInput<T>> =>
  check<unknown>(COMMANDS[type], data, 'data') as Checked<CommandInput<T>>
