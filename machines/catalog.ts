import type { Draft } from './envelope.ts'

/** The kinds of things that are folded. Each has its own stream of entries. */
export const KINDS = [
  'settings',
  'sheet',
  'zone',
  'gun',
  'air',
  'person',
  'job',
  'panel',
  'cup',
  'bell',
  'devices',
] as const
export type Kind = (typeof KINDS)[number]
export type ThingRef<K extends Kind = Kind> = { readonly kind: K; readonly id: string }

/** The one settings thing of a shop, and its kiosks, which are one thing too. */
export const SETTINGS_ID = 'shop'

/**
 * Every event: its version, and the kinds of things whose state it is part of. An entry may name
 * more things than that: a cup's zone is a fact of the cup, not of the zone.
 */
export const EVENTS = {
  SettingsChanged: { version: 1, of: ['settings'] },
  SheetSaved: { version: 1, of: ['sheet'] },
  SheetRetired: { version: 1, of: ['sheet'] },
  ShopFigureSet: { version: 1, of: ['sheet'] },
  ZoneSaved: { version: 1, of: ['zone'] },
  AirMoversSet: { version: 1, of: ['zone'] },
  DayRangeSet: { version: 1, of: ['zone'] },
  ZoneCleared: { version: 1, of: ['zone'] },
  ZonePurged: { version: 1, of: ['zone'] },
  ClimateRead: { version: 1, of: ['zone'] },
  GunSaved: { version: 1, of: ['gun'] },
  AirSupplySaved: { version: 1, of: ['air'] },
  PersonAdded: { version: 1, of: ['person'] },
  PersonRetired: { version: 1, of: ['person'] },
  GunLoaded: { version: 1, of: ['cup', 'gun'] },
  GunCleaned: { version: 1, of: ['gun'] },
  GunPouredBack: { version: 1, of: ['cup'] },
  GunRinsed: { version: 1, of: ['gun'] },
  JobOpened: { version: 1, of: ['job'] },
  HeatLimitSet: { version: 1, of: ['job'] },
  BlendDecided: { version: 1, of: ['job'] },
  ColourCardMeasured: { version: 1, of: ['job'] },
  ColourCardChosen: { version: 1, of: ['job'] },
  JobPaused: { version: 1, of: ['job', 'panel'] },
  JobResumed: { version: 1, of: ['job', 'panel'] },
  JobClosed: { version: 1, of: ['job'] },
  JobReopened: { version: 1, of: ['job'] },
  NoteAdded: { version: 1, of: ['job'] },
  PhotoAdded: { version: 1, of: ['job'] },
  PanelAdded: { version: 1, of: ['panel'] },
  PanelMoved: { version: 1, of: ['panel'] },
  PanelRemoved: { version: 1, of: ['panel'] },
  RouteSet: { version: 1, of: ['panel'] },
  PrepStepDone: { version: 1, of: ['panel'] },
  StepSkipped: { version: 1, of: ['panel'] },
  CoatStarted: { version: 1, of: ['panel', 'cup', 'gun'] },
  CoatContinued: { version: 1, of: ['panel', 'cup', 'gun'] },
  CoatFinished: { version: 1, of: ['panel', 'cup'] },
  CoatBrokenOff: { version: 1, of: ['panel'] },
  FilmRead: { version: 1, of: ['panel'] },
  CoatInspected: { version: 1, of: ['panel'] },
  CoverReached: { version: 1, of: ['panel'] },
  PanelDenibbed: { version: 1, of: ['panel'] },
  PanelAbraded: { version: 1, of: ['panel'] },
  CureStarted: { version: 1, of: ['panel'] },
  PartRead: { version: 1, of: ['panel'] },
  CureEnded: { version: 1, of: ['panel'] },
  PanelPolished: { version: 1, of: ['panel'] },
  PanelPassed: { version: 1, of: ['panel'] },
  PanelSentBack: { version: 1, of: ['panel'] },
  CupMixed: { version: 1, of: ['cup'] },
  CupPoured: { version: 1, of: ['cup'] },
  CupShared: { version: 1, of: ['job'] },
  CupChecked: { version: 1, of: ['cup'] },
  CupMeasured: { version: 1, of: ['cup'] },
  CupMoved: { version: 1, of: ['cup'] },
  CupLabelPrinted: { version: 1, of: ['cup'] },
  CupEmptied: { version: 1, of: ['cup'] },
  BellRang: { version: 1, of: ['bell'] },
  BellAcknowledged: { version: 1, of: ['bell'] },
  BellSnoozed: { version: 1, of: ['bell'] },
  BellEscalated: { version: 1, of: ['bell'] },
  BellHeld: { version: 1, of: ['bell'] },
  BellFlood: { version: 1, of: ['devices'] },
  SoundTested: { version: 1, of: ['devices'] },
  LevelCommissioned: { version: 1, of: ['devices'] },
  ScreenSlept: { version: 1, of: ['devices'] },
  ClockJumped: { version: 1, of: ['devices'] },
  ClockConfirmed: { version: 1, of: ['devices'] },
  TrainingRecorded: { version: 1, of: ['person'] },
  // Of no thing: records read them by type, and a later one takes the place of a wrong one.
  FilterServiced: { version: 1, of: ['zone'] },
  SolventUsed: { version: 1, of: ['zone'] },
  DeviationSettled: { version: 1, of: ['job'] },
  CauseReviewed: { version: 1, of: ['job'] },
  EntryVoided: { version: 1, of: [] },
} as const satisfies Record<string, { version: number; of: readonly Kind[] }>

export type EventType = keyof typeof EVENTS

export const isEvent = (type: string): type is EventType => Object.hasOwn(EVENTS, type)

/** What an EntryVoided says of the entry that it voids. */
export type Voided = {
  readonly entry: string
  readonly type: string
  readonly bell?: string
  readonly person?: string
  readonly air?: string
}

const textOf = (value: unknown): string | undefined =>
  typeof value === 'string' ? value : undefined

function idFor(kind: Kind, entry: Draft): string | undefined {
  if (kind === 'settings' || kind === 'devices') return SETTINGS_ID
  if (kind === 'bell') return textOf(entry.data.key ?? entry.data.bell)
  if (kind === 'person' || kind === 'air') return textOf(entry.data[kind])
  // Pausing a job is recorded once for the job, and for each of its panels.
  if (kind === 'job' && entry.panel !== undefined) return undefined
  return entry[kind]
}

/** The things whose streams an entry belongs to. A void belongs where the entry that it voids does. */
export function streamsOf(entry: Draft): ThingRef[] {
  const type = entry.type === 'EntryVoided' ? textOf(entry.data.type) : entry.type
  if (type === undefined || !isEvent(type)) return []
  return EVENTS[type].of.flatMap((kind) => {
    const id = idFor(kind, entry)
    return id === undefined ? [] : [{ kind, id }]
  })
}
