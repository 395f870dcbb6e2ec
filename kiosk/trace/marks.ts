import { cupEndsAt } from '../../machines/cup/ends.ts'
import type { Draft, Entry } from '../../machines/envelope.ts'
import { settingsAt } from '../../machines/shop/settings.ts'
import { contextOf, thingOf } from '../../machines/state.ts'
import type { Deviation } from '../../machines/trace/deviations.ts'
import type { CoatTold, PanelTold } from '../../machines/trace/record.ts'
import type { Traced } from '../../machines/trace/trace.ts'
import { zoneOfEntry } from '../../machines/trace/zones.ts'
import { airMarks, dewMarks } from './airMarks.ts'
import { lateIn } from './laterMarks.ts'
import type { Chart, Flag, Mark, Row } from './mark.ts'

/** The timeline of a job as marks in rows. Pure. */

const flagsOf = (deviations: readonly Deviation[], entry: string): Flag[] =>
  [...new Set(deviations.filter((d) => d.entry === entry).map(({ kind }) => kind))].flatMap(
    (kind) => (kind === 'outside' || kind === 'override' ? [kind] : []),
  )

function coatMarks(coat: CoatTold, deviations: readonly Deviation[]): Mark[] {
  const row = `panel ${coat.panel}`
  const { wait, window, startedAt, finishedAt, isEstimated } = coat
  const what = coat.stage ?? ''
  const isEarly = wait !== null && (wait.dueAt === null || startedAt < wait.dueAt)
  const isLate = window?.isShut === true
  const band: Mark[] =
    wait?.dueAt == null || wait.dueAt <= wait.fromMs
      ? []
      : [
          {
            ...{ row, kind: 'band', what, n: coat.nth, entry: null, flags: [] },
            from: wait.dueAt,
            to: Math.max(
              wait.dueAt,
              window && window.why === 'window'
                ? window.shutsAt
                : Math.max(startedAt, wait.dueAt) + 600_000,
            ),
          },
        ]
  // Before the band: not allowed yet. A bar that begins over it was too early.
  const notYet: Mark[] =
    wait?.dueAt == null || wait.dueAt <= wait.fromMs
      ? []
      : [
          {
            ...{ row, kind: 'wait', what, n: coat.nth, entry: null, flags: [] },
            ...{ from: wait.fromMs, to: wait.dueAt },
          },
        ]
  const flags: Flag[] = [
    ...flagsOf(deviations, coat.entry),
    ...(isEstimated ? ['estimated' as const] : []),
    ...(isEarly ? ['early' as const] : []),
    ...(isLate ? ['late' as const] : []),
  ]
  const waited = wait ? Math.max(0, startedAt - wait.fromMs) : null
  const wanted = wait ? (wait.dueAt === null ? null : wait.dueAt - wait.fromMs) : null
  const most = isLate ? (window?.shutsAt ?? 0) - (window?.fromMs ?? 0) : null
  const numbers = wait ? [waited, wanted, most] : []
  return [
    ...notYet,
    ...band,
    {
      row,
      kind: 'coat',
      from: startedAt,
      to: finishedAt,
      entry: coat.entry,
      end: coat.finish,
      what,
      n: coat.nth,
      numbers,
      flags,
    },
  ]
}

const WORK: readonly string[] = [
  'PrepStepDone',
  'StepSkipped',
  'PanelAbraded',
  'PanelDenibbed',
  'PanelPolished',
  'PanelMoved',
  'PanelPassed',
  'PanelSentBack',
  'CoatInspected',
  'FilmRead',
]

const panelMarks = (panel: PanelTold, deviations: readonly Deviation[]): Mark[] => [
  ...panel.coats.flatMap((coat) => coatMarks(coat, deviations)),
  ...panel.cures.map(
    (cure): Mark => ({
      ...{ row: `panel ${panel.id}`, kind: 'cure', from: cure.startedAt, to: cure.endedAt },
      ...{ entry: cure.entry, end: cure.end, what: cure.mode, numbers: [cure.share] },
      flags: [
        ...flagsOf(deviations, cure.entry),
        ...flagsOf(deviations, cure.end ?? ''),
        ...(cure.share === null ? ['notRecorded' as const] : []),
      ],
    }),
  ),
  ...panel.hands
    .filter(({ type }) => WORK.includes(type))
    .map(
      ({ entry, type, at }): Mark => ({
        ...{ row: `panel ${panel.id}`, kind: 'work', from: at, to: null, entry, what: type },
        flags: flagsOf(deviations, entry),
      }),
    ),
]

/** A cup from its mixing to its end, the coats that it sprayed, and what was sprayed after its time. */
function cupMarks({ state, panels }: Traced, id: string): Mark[] {
  const thing = thingOf(state, { kind: 'cup', id })
  if (!thing || thing.value === 'unmixed') return []
  const { context } = thing
  const row = `cup ${id}`
  const endsAt = cupEndsAt(state, context)
  const uses = panels.flatMap(({ coats }) => coats.filter(({ cups }) => cups.includes(id)))
  const lastUse = Math.max(context.mixedAt, ...uses.map((c) => c.finishedAt ?? c.startedAt))
  const to = Math.max(
    context.emptiedAt ?? 0,
    lastUse,
    Math.min(endsAt ?? lastUse, lastUse + 3_600_000),
  )
  const mark = (
    kind: Mark['kind'],
    from: number,
    until: number,
    more: Partial<Mark> = {},
  ): Mark => ({
    ...{ row, kind, from, to: until, entry: null, what: context.name, flags: [], ...more },
  })
  return [
    mark('cup', context.mixedAt, to, { entry: thing.entries[0]?.id ?? null, numbers: [endsAt] }),
    ...(endsAt !== null && to > endsAt ? [mark('past', endsAt, to, { flags: ['late'] })] : []),
    ...uses.map((coat) =>
      mark('use', coat.startedAt, coat.finishedAt ?? coat.startedAt + 60_000, {
        ...{ what: coat.stage ?? '', n: coat.nth, entry: coat.entry },
        flags: endsAt !== null && coat.startedAt > endsAt ? ['late'] : [],
      }),
    ),
  ]
}

function gunMarks({ panels }: Traced, gun: string): Mark[] {
  return panels.flatMap(({ coats }) =>
    coats
      .filter((coat) => coat.gun === gun)
      .map(
        (coat): Mark => ({
          ...{
            row: `gun ${gun}`,
            kind: 'use',
            from: coat.startedAt,
            to: coat.finishedAt,
            flags: [],
          },
          ...{ entry: coat.entry, what: coat.stage ?? '', n: coat.nth },
          numbers: [coat.gunSet.inletKpa ?? null, coat.gunSet.turns ?? null],
        }),
      ),
  )
}

const BELLS: readonly string[] = ['BellRang', 'BellAcknowledged', 'BellSnoozed']

/** The timeline of a job: rows from the air down to the bells, and what stands in each. */
export function chartOf(
  all: Traced,
  entries: readonly (Draft | Entry)[],
  deviations: readonly Deviation[],
): Chart {
  const { state, panels } = all
  const byPanel = panels.flatMap((panel) => panelMarks(panel, deviations))
  const cups = Object.keys(state.things.cup)
  const guns = [...new Set(panels.flatMap(({ coats }) => coats.flatMap(({ gun }) => gun ?? [])))]
  const ofCups = cups.flatMap((id) => cupMarks(all, id))
  const ofGuns = guns.flatMap((gun) => gunMarks(all, gun))
  const bells = entries
    .filter(({ type, job }) => BELLS.includes(type) && job !== undefined)
    .map(
      ({ at, data, id }): Mark => ({
        ...{ row: 'bells', kind: 'bell', from: at, to: null, entry: id, flags: [] },
        what: String(data.key ?? '').split(':')[0] ?? '',
      }),
    )
  const taken = deviations
    .filter(({ kind }) => kind === 'void')
    .map(
      ({ at, entry, code }): Mark => ({
        ...{ row: 'taken', kind: 'void', from: at, to: null, entry, what: code, flags: ['voided'] },
      }),
    )
  const marks = [...byPanel, ...ofCups, ...ofGuns, ...bells]
  const times = marks.flatMap(({ from, to, kind }) =>
    kind === 'band' || kind === 'wait' ? [] : [from, to ?? from],
  )
  const from = Math.min(...times)
  const to = Math.max(...times, from + 600_000)
  const zones = [...new Set(entries.filter(({ job }) => job !== undefined).flatMap(zoneOfEntry))]
  const span = { from, to }
  const limitC = settingsAt(state, to).limits?.dewMarginC
  const air = (times.length === 0 ? [] : zones).flatMap((zone) => {
    const own = contextOf(state, 'zone', zone) ?? { readings: [] }
    return [...airMarks(zone, own, span), ...dewMarks(zone, own, span, limitC)]
  })
  const nameOf = (kind: 'zone' | 'gun', id: string) => contextOf(state, kind, id)?.spec?.name ?? id
  const rows: Row[] = [
    ...zones.flatMap((zone): Row[] => [
      { id: `air ${zone}`, kind: 'air', name: nameOf('zone', zone) },
      { id: `dew ${zone}`, kind: 'dew', name: nameOf('zone', zone) },
    ]),
    ...panels.map(({ id, name }): Row => ({ id: `panel ${id}`, kind: 'panel', name })),
    ...cups.map((id): Row => ({ id: `cup ${id}`, kind: 'cup', name: id })),
    ...guns.map((id): Row => ({ id: `gun ${id}`, kind: 'gun', name: nameOf('gun', id) })),
    { id: 'bells', kind: 'bells', name: '' },
    { id: 'taken', kind: 'taken', name: '' },
  ]
  const late = lateIn(entries)
  // A mark of the air names no entry: it begins with its reading.
  const readings = new Map(
    entries.flatMap(({ id, type, zone, at }) =>
      type === 'ClimateRead' && late.has(id) ? [[`${zone} ${at}`, id] as const] : [],
    ),
  )
  const whole = [...air, ...marks, ...taken].map((mark): Mark => {
    const isAir = mark.kind === 'air' || mark.kind === 'dew'
    const said = isAir ? [readings.get(`${mark.what} ${mark.from}`)] : [mark.entry, mark.end]
    const told = said.flatMap((id) => late.get(id ?? '') ?? [])
    return told.length === 0 ? mark : { ...mark, recordedAt: Math.max(...told) }
  })
  return {
    rows: rows.filter(({ id }) => whole.some(({ row }) => row === id)),
    marks: whole,
    from,
    to,
  }
}

/** A timeline with what came later in a row of its own. */
export const withLater = (chart: Chart, later: readonly Mark[]): Chart =>
  later.length === 0
    ? chart
    : {
        ...chart,
        rows: [...chart.rows, { id: 'later', kind: 'later', name: '' }],
        marks: [...chart.marks, ...later],
      }
