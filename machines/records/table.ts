import type { BellFigures } from '../bell/figures.ts'
import type { Records } from './records.ts'
import type { Due } from './upkeep.ts'
import type { CupVoc, NotJudged } from './vocRecords.ts'

/** Records as rows of text: the one list that the screen, the paper and the file for a spreadsheet show. */

export type RecordRow = {
  readonly name: string
  readonly value: string
  readonly unit: string
  readonly note: string
  /** Something to look at: over a limit, overdue, or not recorded. */
  readonly isFlagged: boolean
}
export type RecordSection = { readonly title: string; readonly rows: readonly RecordRow[] }

/** What the rows are said in. */
export type RecordWords = {
  readonly sections: Readonly<
    Record<
      | 'material'
      | 'stages'
      | 'cups'
      | 'solvent'
      | 'training'
      | 'filters'
      | 'coats'
      | 'outside'
      | 'overrides'
      | 'notJudged'
      | 'voids'
      | 'bells',
      string
    >
  >
  readonly columns: readonly [string, string, string, string, string]
  readonly none: string
  readonly total: string
  readonly noWeight: (liters: string) => string
  readonly noCategory: string
  readonly cups: (n: number) => string
  readonly forJobs: (jobs: string) => string
  readonly added: string
  readonly addedNote: string
  readonly discarded: string
  readonly notSaid: (n: number, of: number) => string
  readonly limit: (gPerL: string) => string
  readonly over: string
  readonly within: string
  readonly why: Readonly<Record<NotJudged | 'stageMissing', string>>
  readonly cleanings: string
  readonly times: (n: number) => string
  readonly due: Readonly<Record<Due, string>>
  readonly dueOn: (date: string) => string
  readonly doneOn: (date: string) => string
  readonly filterWork: Readonly<Record<string, string>>
  readonly efficiencyLow: string
  /** The limit that a product falls under, by its id. */
  readonly category: (id: string) => string
  readonly stage: (stage: string) => string
  readonly code: (code: string) => string
  readonly type: (type: string) => string
  readonly bells: Readonly<
    Record<
      | 'rang'
      | 'perPeriod'
      | 'peak'
      | 'flood'
      | 'median'
      | 'p95'
      | 'never'
      | 'prompt'
      | 'medium'
      | 'high',
      string
    >
  >
}

export type Say = {
  readonly words: RecordWords
  /** A day on the shop's calendar. */
  readonly date: (ms: number) => string
}

const row = (
  name: string,
  value: string,
  unit: string,
  note = '',
  isFlagged = false,
): RecordRow => ({
  ...{ name, value, unit, note, isFlagged },
})
const liters = (ml: number): string => (ml / 1_000).toFixed(2)
const parts = (...all: readonly string[]): string => all.filter((one) => one !== '').join('; ')

function materialRows({ material, addedMl, leftMl }: Records, { words }: Say): RecordRow[] {
  const rows = material.flatMap(({ name, category, cups, ml, g, mlWithoutG }) => {
    const note = parts(
      category === null ? words.noCategory : words.category(category),
      words.cups(cups),
      mlWithoutG > 0 ? words.noWeight(liters(mlWithoutG)) : '',
    )
    return [
      row(name, liters(ml), 'L', note, mlWithoutG > 0 || category === null),
      row(name, g.toFixed(0), 'g', mlWithoutG > 0 ? words.noWeight(liters(mlWithoutG)) : ''),
    ]
  })
  const all = material.reduce((sum, { ml }) => sum + ml, 0)
  return [
    ...rows,
    ...(addedMl > 0 ? [row(words.added, liters(addedMl), 'L', words.addedNote, true)] : []),
    ...(material.length > 1 ? [row(words.total, liters(all), 'L')] : []),
    ...(leftMl.cups > 0
      ? [
          row(
            words.discarded,
            liters(leftMl.ml),
            'L',
            leftMl.notSaid > 0 ? words.notSaid(leftMl.notSaid, leftMl.cups) : '',
            leftMl.notSaid > 0,
          ),
        ]
      : []),
  ]
}

function cupRow(cup: CupVoc, { words, date }: Say): RecordRow {
  const { gPerL, limitGPerL, isWithin, why, category } = cup
  const note = parts(
    date(cup.at),
    `${liters(cup.ml)} L`,
    cup.alsoFor === undefined ? '' : words.forJobs([cup.job ?? '', ...cup.alsoFor].join(', ')),
    category === null ? words.noCategory : words.category(category),
    limitGPerL === null ? '' : words.limit(limitGPerL.toFixed(0)),
    isWithin === null ? '' : isWithin ? words.within : words.over,
    why === null ? '' : words.why[why],
  )
  const isFlagged = isWithin === false || (why !== null && why !== 'inAverage')
  return row(
    `${cup.cup.slice(0, 4)} ${cup.name}`,
    gPerL === null ? '' : gPerL.toFixed(0),
    'g/L',
    note,
    isFlagged,
  )
}

const stageRows = ({ voc }: Records, { words }: Say): RecordRow[] =>
  voc.stages.map(({ job, gPerL, limitGPerL, isWithin, why }) =>
    row(
      job,
      gPerL === null ? '' : gPerL.toFixed(0),
      'g/L',
      parts(
        words.limit(limitGPerL.toFixed(0)),
        isWithin === null ? '' : isWithin ? words.within : words.over,
        why === null ? '' : words.why[why],
      ),
      isWithin === false || why !== null,
    ),
  )

function bellRows(figures: BellFigures, { words: { bells } }: Say): RecordRow[] {
  const share = (of: number) => (100 * of).toFixed(0)
  const seconds = (ms: number | null) => (ms === null ? '' : (ms / 1_000).toFixed(0))
  return [
    row(bells.rang, String(figures.rang), ''),
    row(bells.perPeriod, figures.perPeriod.toFixed(2), ''),
    row(bells.peak, String(figures.peak?.rang ?? 0), ''),
    row(bells.flood, share(figures.floodShare), '%'),
    row(bells.median, seconds(figures.medianMs), 's'),
    row(bells.p95, seconds(figures.p95Ms), 's'),
    row(bells.never, String(figures.neverAcknowledged), '', '', figures.neverAcknowledged > 0),
    ...(figures.shares
      ? (['prompt', 'medium', 'high'] as const).map((one) =>
          row(bells[one], share(figures.shares?.[one] ?? 0), '%'),
        )
      : []),
  ]
}

/** Every section; one without anything says so. @param say in the shop's language, by its calendar */
export function recordSections(records: Records, say: Say): RecordSection[] {
  const { words, date } = say
  const { sections } = words
  const of = (key: keyof typeof sections, rows: readonly RecordRow[]): RecordSection => ({
    title: sections[key],
    rows: rows.length > 0 ? rows : [row(words.none, '', '')],
  })
  const codes = (key: 'outside' | 'overrides' | 'notJudged') =>
    of(
      key,
      records[key].map(({ code, count }) => row(words.code(code), String(count), '')),
    )
  const { cleanings } = records
  return [
    of('material', materialRows(records, say)),
    ...(records.voc.stages.length > 0 ? [of('stages', stageRows(records, say))] : []),
    of(
      'cups',
      records.voc.cups.map((cup) => cupRow(cup, say)),
    ),
    of('solvent', [
      ...records.solvents.map(({ solvent, ml, times }) =>
        row(solvent === '' ? '–' : solvent, liters(ml), 'L', words.times(times)),
      ),
      row(
        words.cleanings,
        String(cleanings.count),
        '',
        cleanings.notSaid > 0 ? words.notSaid(cleanings.notSaid, cleanings.count) : '',
        cleanings.notSaid > 0,
      ),
    ]),
    of(
      'training',
      records.training.map(({ name, doneMs, dueMs, due }) =>
        row(
          name,
          words.due[due],
          '',
          parts(
            doneMs === null ? '' : words.doneOn(date(doneMs)),
            dueMs === null ? '' : words.dueOn(date(dueMs)),
          ),
          due !== 'ok',
        ),
      ),
    ),
    of(
      'filters',
      records.filters.map(({ name, what, doneMs, nextMs, efficiency, due }) =>
        row(
          `${name}: ${words.filterWork[what] ?? what}`,
          nextMs === null ? '' : words.due[due],
          '',
          parts(
            words.doneOn(date(doneMs)),
            nextMs === null ? '' : words.dueOn(date(nextMs)),
            efficiency === null ? '' : `${(100 * efficiency).toFixed(1)} %`,
            efficiency !== null && efficiency < 0.98 ? words.efficiencyLow : '',
          ),
          due === 'over' || due === 'soon' || (efficiency !== null && efficiency < 0.98),
        ),
      ),
    ),
    of(
      'coats',
      records.coats.map(({ code, count, usedMl, notSaid }) =>
        row(
          words.stage(code),
          String(count),
          '',
          parts(`${liters(usedMl)} L`, notSaid > 0 ? words.notSaid(notSaid, count) : ''),
        ),
      ),
    ),
    codes('outside'),
    codes('overrides'),
    codes('notJudged'),
    of(
      'voids',
      records.voids.map(({ code, count }) => row(words.type(code), String(count), '')),
    ),
    of('bells', bellRows(records.bells, say)),
  ]
}

/** A field of RFC 4180: in quotes where it has a comma, a quote or a line break. */
const quoted = (text: string): string =>
  /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text

/**
 * The sections as RFC 4180: one table, its header first, lines ended by CR LF.
 * A text that a spreadsheet would take for a formula gets an apostrophe in front.
 */
export function recordsCsv(sections: readonly RecordSection[], { words }: Say): string {
  const safe = (text: string) => (/^[=+@\t\r]|^-(?!\d)/.test(text) ? `'${text}` : text)
  const lines = sections.flatMap(({ title, rows }) =>
    rows.map(({ name, value, unit, note }) => [title, name, value, unit, note]),
  )
  return [words.columns, ...lines]
    .map((line) => `${line.map((one) => quoted(safe(one))).join(',')}\r\n`)
    .join('')
}
