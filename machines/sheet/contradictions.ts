import { minutesAt, type Point } from '../clock/interval.ts'
import type { Wrong } from '../together.ts'
import type { Sheet } from './schema.ts'

/**
 * What a sheet says that cannot all be so: slips of typing. Whatever may be meant is left alone,
 * since the maker's sheet rules and not our idea of it.
 */

type Points = readonly Point[]
type Path = Wrong['path']

const wrong = (path: Path, accepted: string): Wrong => ({ path, accepted })
/** 0.1 + 0.2 is a hair above 0.3. */
const ROUNDING = 1e-9

const own = (points: Points): number => points[0]?.minutes ?? 0

/** Temperatures at which both have a figure, given or between two given ones: nothing is guessed. */
function temperaturesOf(a: Points, b: Points): number[] {
  const temps = (points: Points) => points.map((p) => p.atC)
  const coldest = Math.max(Math.min(...temps(a)), Math.min(...temps(b)))
  const warmest = Math.min(Math.max(...temps(a)), Math.max(...temps(b)))
  return [...temps(a), ...temps(b)].filter((atC) => atC >= coldest && atC <= warmest)
}

/** Whether one interval is longer than another at a temperature that both give. */
const isLonger = (a: Points, b: Points): boolean =>
  temperaturesOf(a, b).some(
    (atC) => minutesAt('notBefore', a, atC) > minutesAt('notBefore', b, atC),
  )

const windowOf = (within: Sheet['recoatWithin'] | undefined): Points | null =>
  typeof within === 'object' ? within : null

/** A window that shuts before the flash before it is over would never be open. */
function windowProblems(sheet: Sheet): (Wrong | null)[] {
  const window = windowOf(sheet.recoatWithin)
  const { recoatAgainAfter: again, afterWindow } = sheet
  const isAfter = (path: Path, flash: Points | undefined) =>
    window && flash && isLonger(flash, window)
      ? wrong(path, 'minutes up to those of recoatWithin, or the window shuts before it opens')
      : null
  // A product that is reapplied over itself is not kept from its own coats by its window.
  const between = (path: Path, flash: Points | undefined) =>
    afterWindow === 'reapply' ? null : isAfter(path, flash)
  const options = (['activators', 'reducers'] as const).flatMap((list) =>
    sheet[list].flatMap((option, i) => [
      between([list, i, 'flashBetween'], option.flashBetween),
      isAfter([list, i, 'flashBeforeNext'], option.flashBeforeNext),
    ]),
  )
  return [
    between(['flashBetween'], sheet.flashBetween),
    isAfter(['flashBeforeNext'], sheet.flashBeforeNext),
    ...options,
    again && !window
      ? wrong(['recoatAgainAfter'], 'nothing where recoatWithin is not given in points')
      : null,
    again && window && isLonger(window, again)
      ? wrong(['recoatAgainAfter'], 'minutes from those of recoatWithin on')
      : null,
  ]
}

function overProblems({ over }: Sheet): (Wrong | null)[] {
  return over.flatMap((one, i) => {
    const window = windowOf(one.recoatWithin)
    const isTwice = over.findIndex((o) => o.stage === one.stage) !== i
    return [
      isTwice ? wrong(['over', i, 'stage'], 'a stage that over does not name twice') : null,
      window && one.flashBeforeNext && isLonger(one.flashBeforeNext, window)
        ? wrong(['over', i, 'flashBeforeNext'], 'minutes up to those of its recoatWithin')
        : null,
    ]
  })
}

/** An activator or reducer is known by its name, and is for a range that has a beginning and an end. */
function optionProblems(sheet: Sheet): (Wrong | null)[] {
  return (['activators', 'reducers'] as const).flatMap((list) =>
    sheet[list].flatMap(({ name, fromC, toC }, i) => [
      fromC > toC ? wrong([list, i, 'toC'], `a temperature from fromC on (${fromC} °C)`) : null,
      sheet[list].findIndex((o) => o.name === name) !== i
        ? wrong([list, i, 'name'], `a name that ${list} does not have twice`)
        : null,
    ]),
  )
}

function limitProblems(sheet: Sheet): (Wrong | null)[] {
  const { minC, maxC } = sheet.limits
  const { maxFilmUm, dryUmPerCoat, floorMin, flashBy, potLife, induction } = sheet
  const longest = Math.max(own(sheet.flashBetween), own(sheet.flashBeforeNext))
  return [
    minC !== undefined && maxC !== undefined && minC > maxC
      ? wrong(['limits', 'maxC'], `a temperature from minC on (${minC} °C)`)
      : null,
    maxFilmUm !== undefined && dryUmPerCoat !== undefined && dryUmPerCoat > maxFilmUm
      ? wrong(['maxFilmUm'], `at least one coat's ${dryUmPerCoat} µm`)
      : null,
    flashBy === 'appearance' && floorMin > longest
      ? wrong(['floorMin'], `at most the flash that it is the least of, ${longest} min`)
      : null,
    potLife && induction && isLonger(induction, potLife)
      ? wrong(
          ['induction'],
          'minutes up to those of potLife, or the mix is over before it is ready',
        )
      : null,
  ]
}

/** As in the calculation of VOC: all volatiles, water and exempt solvents included. */
const volatileProblems = ({ components }: Sheet): (Wrong | null)[] =>
  components.map(({ volatile, water = 0, exempt = 0 }, i) =>
    volatile !== undefined && water + exempt > volatile + ROUNDING
      ? wrong(
          ['components', i, 'volatile'],
          'all volatiles, no less than water and exempt together',
        )
      : null,
  )

/** The first thing in a sheet that contradicts another; null when it holds together. */
export function contradictionIn(sheet: Sheet): Wrong | null {
  const all = [
    ...limitProblems(sheet),
    ...windowProblems(sheet),
    ...overProblems(sheet),
    ...optionProblems(sheet),
    ...volatileProblems(sheet),
  ]
  return all.find((problem) => problem !== null) ?? null
}
