import type { Wrong } from '../crossFieldCheck.ts'
import type { Sheet } from './schema.ts'

/**
 * What a sheet says that cannot be so: slips of typing. Figures that are only unlikely beside one
 * another (a flash longer than its window, a band within it) are the maker's affair: the more
 * cautious of them binds on the Wall.
 */

/** 0.1 + 0.2 is a hair above 0.3. */
const ROUNDING = 1e-9

/** An activator or reducer is known by its name, and is for a range that has a beginning and an end. */
const optionProblems = (sheet: Sheet): (Wrong | null)[] =>
  (['activators', 'reducers'] as const).flatMap((list) =>
    sheet[list].flatMap(({ name, fromC, toC }, i) => [
      fromC > toC
        ? { path: [list, i, 'toC'], code: 'noLowerThan', params: { field: 'fromC', atC: fromC } }
        : null,
      sheet[list].findIndex((o) => o.name === name) !== i
        ? { path: [list, i, 'name'], code: 'nameOnce', params: { list } }
        : null,
    ]),
  )

function limitProblem({ limits: { minC, maxC } }: Sheet): Wrong | null {
  if (minC === undefined || maxC === undefined || minC <= maxC) return null
  return { path: ['limits', 'maxC'], code: 'noLowerThan', params: { field: 'minC', atC: minC } }
}

/** As in the calculation of VOC: all volatiles, water and exempt solvents included. */
const volatileProblems = ({ components }: Sheet): (Wrong | null)[] =>
  components.map(({ volatile, water = 0, exempt = 0 }, i) =>
    volatile !== undefined && water + exempt > volatile + ROUNDING
      ? {
          path: ['components', i, 'volatile'],
          code: 'volatiles',
          params: {},
        }
      : null,
  )

/** The first thing in a sheet that contradicts another; null when it holds together. */
export const contradictionIn = (sheet: Sheet): Wrong | null =>
  [limitProblem(sheet), ...optionProblems(sheet), ...volatileProblems(sheet)].find(
    (problem) => problem !== null,
  ) ?? null
