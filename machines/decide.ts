import { acknowledgeBell, escalateBell, holdBell, ringBell, snoozeBell } from './bell/decide.ts'
import type { ThingRef } from './catalog.ts'
import { readClimate, setAirMovers, setDayRange } from './climate/decide.ts'
import type { CommandData, CommandType } from './commands.ts'
import { type WrongFields, wrongAt } from './contract/wrongField.ts'
import type { AnyCommand } from './contract.ts'
import { checkCup, measureCup, moveCup } from './cup/check.ts'
import { emptyCup, mixCup, printLabel } from './cup/decide.ts'
import { pourCup } from './cup/pour.ts'
import type { Deciding, Decision } from './deciding.ts'
import {
  commissionLevel,
  confirmClock,
  reportClockJump,
  reportFlood,
  reportSleep,
  testSound,
} from './devices/decide.ts'
import type { Draft } from './envelope.ts'
import { cleanGun, loadGun, rinseGun } from './gun/decide.ts'
import { pourBack } from './gun/pourBack.ts'
import { chooseColourCard, decideBlend, measureColourCard } from './job/colour.ts'
import { closeJob, openJob, pauseJob, reopenJob, resumeJob, setHeatLimit } from './job/decide.ts'
import { addNote, addPhoto } from './job/notes.ts'
import { needs } from './needs.ts'
import { breakOffCoat } from './panel/breakOff.ts'
import { clearZone, purgeZone } from './panel/clearZone.ts'
import { continueCoat, startCoat } from './panel/coat.ts'
import { endCure, readPart, startCure } from './panel/cure.ts'
import { readFilm } from './panel/film.ts'
import { finishCoat } from './panel/finish.ts'
import { addPanel, movePanel, removePanel, setRoute } from './panel/setup.ts'
import * as work from './panel/work.ts'
import { addPerson, retirePerson } from './people/decide.ts'
import { mayLead } from './people/lead.ts'
import {
  recordSolvent,
  recordTraining,
  reviewCause,
  serviceFilter,
  settleDeviation,
} from './records/decide.ts'
import { MINUTE_MS, type Refusal } from './refusals.ts'
import {
  changeSettings,
  importSheets,
  retireSheet,
  saveAirSupply,
  saveGun,
  saveSheet,
  saveZone,
  setShopFigure,
} from './shop/decide.ts'
import { stamp } from './stamp.ts'
import type { State } from './state.ts'
import { tieBreak, wouldBeLost } from './tieBreak.ts'
import { LEAD_BACK_MS, type Times, timesOf, typedBackMs } from './timing.ts'
import { voidEntry } from './void.ts'

type Handlers = { [T in CommandType]: (d: Deciding<T, CommandData<T>>) => Decision }

const handlers: Handlers = {
  SaveSheet: saveSheet,
  ImportSheets: importSheets,
  RetireSheet: retireSheet,
  SetShopFigure: setShopFigure,
  SaveGun: saveGun,
  SaveZone: saveZone,
  ClearZone: clearZone,
  PurgeZone: purgeZone,
  ChangeSettings: changeSettings,
  SaveAirSupply: saveAirSupply,
  AddPerson: addPerson,
  RetirePerson: retirePerson,
  TestSound: testSound,
  CommissionLevel: commissionLevel,
  ReportSleep: reportSleep,
  ReportClockJump: reportClockJump,
  ConfirmClock: confirmClock,
  SetAirMovers: setAirMovers,
  SetDayRange: setDayRange,
  ReadClimate: readClimate,
  OpenJob: openJob,
  SetHeatLimit: setHeatLimit,
  DecideBlend: decideBlend,
  MeasureColourCard: measureColourCard,
  ChooseColourCard: chooseColourCard,
  PauseJob: pauseJob,
  ResumeJob: resumeJob,
  CloseJob: closeJob,
  ReopenJob: reopenJob,
  AddNote: addNote,
  AddPhoto: addPhoto,
  AddPanel: addPanel,
  MovePanel: movePanel,
  RemovePanel: removePanel,
  SetRoute: setRoute,
  DoPrepStep: work.doPrepStep,
  SkipStep: work.skipStep,
  StartCoat: startCoat,
  ContinueCoat: continueCoat,
  BreakOffCoat: breakOffCoat,
  FinishCoat: finishCoat,
  InspectCoat: work.inspectCoat,
  ReachCover: work.reachCover,
  AbradePanel: work.abradePanel,
  DenibPanel: work.denibPanel,
  StartCure: startCure,
  ReadPart: readPart,
  EndCure: endCure,
  ReadFilm: readFilm,
  PolishPanel: work.polishPanel,
  PassPanel: work.passPanel,
  SendBackPanel: work.sendBackPanel,
  MixCup: mixCup,
  PourCup: pourCup,
  PrintLabel: printLabel,
  CheckCup: checkCup,
  MeasureCup: measureCup,
  MoveCup: moveCup,
  EmptyCup: emptyCup,
  LoadGun: loadGun,
  PourBack: pourBack,
  RinseGun: rinseGun,
  CleanGun: cleanGun,
  RingBell: ringBell,
  AcknowledgeBell: acknowledgeBell,
  SnoozeBell: snoozeBell,
  EscalateBell: escalateBell,
  HoldBell: holdBell,
  ReportFlood: reportFlood,
  RecordTraining: recordTraining,
  ServiceFilter: serviceFilter,
  UseSolvent: recordSolvent,
  SettleDeviation: settleDeviation,
  ReviewCause: reviewCause,
  VoidEntry: (d) => voidEntry(d, handle),
}

/** The handler of a command's type, given the command that it was parsed to. */
function handle(d: Deciding): Decision {
  const handler = handlers[d.command.type as CommandType] as (d: Deciding) => Decision
  return handler(d)
}

export type Decided =
  | { readonly drafts: readonly Draft[] }
  | { readonly refusal: Refusal }
  | WrongFields

/**
 * Decides a command. All policy is behind this function, which reads the folded state and never a clock.
 * @param state with what needs(command) names folded into it
 * @param command as parseCommand gave it
 * @param now when it arrived, UTC ms
 * @returns drafts (none when the command adds nothing), a refusal, or the field that is wrong
 */
export function decide(state: State, command: AnyCommand, now: number): Decided {
  const times = timesOf(command, now)
  if ('error' in times) return times
  return decideAt(state, { command, now, times, named: needs(command).things })
}

/** A command with what is known of it before it is decided. */
export type Ready = {
  readonly command: AnyCommand
  /** When it arrived, UTC ms. */
  readonly now: number
  /** As timesOf(command, now) gave them. */
  readonly times: Times
  /** As needs(command) gave them. */
  readonly named: readonly ThingRef[]
}

/** The same for a command whose times are known to be possible. */
export function decideAt(state: State, { command, now, times, named }: Ready): Decided {
  const d: Deciding = { state, command, data: command.data, now, ...times }
  // Who may is judged by when it was typed, not by when it happened.
  if (typedBackMs(command, times) > LEAD_BACK_MS && !mayLead({ ...d, at: times.enteredAt }))
    return wrongAt('by', command.by, 'lateLead', { hours: LEAD_BACK_MS / (60 * MINUTE_MS) })
  // A late fact keeps the time it came with: late facts must give the same state in any order.
  return d.isLive ? decideLive(movedTo(d, tieBreak(state, named, d.at))) : decided(d)
}

function decided(d: Deciding): Decided {
  const decision = handle(d)
  return 'facts' in decision ? { drafts: stamp(d, decision.facts) } : decision
}

/** A live command comes after what it is decided on: a millisecond later where it would be lost otherwise. */
function decideLive(d: Deciding): Decided {
  const answer = decided(d)
  const isLost = 'drafts' in answer && wouldBeLost(d.state, answer.drafts, d.at)
  return isLost ? decideLive(movedTo(d, d.at + 1)) : answer
}

/** The same command with a slightly later time. */
const movedTo = (d: Deciding, at: number): Deciding =>
  at === d.at ? d : { ...d, at, now: Math.max(d.now, at), enteredAt: Math.max(d.enteredAt, at) }
