import { shopTag } from '../machines/digest.ts'
import { routeState } from '../machines/panel/where.ts'
import { contextOf, type State, thingOf } from '../machines/state.ts'
import { stage as stageEn } from '../machines/words/stages.en.ts'
import { stage as stageEs } from '../machines/words/stages.es.ts'
import { labelStyleOf } from './fromState.ts'
import { legible } from './legible.ts'

import type { JobSheet } from './sheets.ts'

/** What sheets and tags say of a shop. */

/** @returns null for a job that the state does not hold; its panels by name, those taken out of it left out */
export function jobSheetOf(state: State, id: string): JobSheet | null {
  const job = thingOf(state, { kind: 'job', id })
  if (!job || job.value === 'unknown') return null
  const names = labelStyleOf(state).language === 'es' ? stageEs : stageEn
  const panels = Object.entries(state.things.panel)
    .filter(([, { value, context }]) => {
      return context.job === id && !['unknown', 'removed'].includes(routeState(value))
    })
    .map(
      ([
        panel,
        {
          context: { name, route },
        },
      ]) => ({
        panel,
        name: legible(name),
        // A stage that is done by hand several times in a row is one word.
        route: route.map(({ stage }) => names[stage]).filter((word, n, all) => word !== all[n - 1]),
      }),
    )
    .sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : a.panel < b.panel ? -1 : 1))
  const { title, colours } = job.context
  return {
    shopTag: shopTag(state.shop),
    job: id,
    title: legible(title),
    colours: colours.map((c) => legible(c.code)),
    panels,
  }
}

/** The product's name as its sheet has it now; null for one that the shop has no sheet of. */
export const productOf = (state: State, id: string): string | null =>
  contextOf(state, 'sheet', id)?.versions.at(-1)?.sheet.name ?? null
