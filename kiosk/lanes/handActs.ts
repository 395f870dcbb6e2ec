import { dueStep, type PanelContext, WORKS } from '../../machines/panel/context.ts'
import { PADS, type Pad } from '../../machines/sheet/schema.ts'
import type { Words } from '../words/en.ts'
import type { Act } from './actTypes.ts'
import type { Lane } from './lanes.ts'
import { stepWord } from './stepWord.ts'

const GRITS: readonly number[] = [500, 800, 1000]

export function handActs(lane: Lane, panel: PanelContext, words: Words): Act[] {
  const step = dueStep(panel)
  const stage = panel.route[step]?.stage
  const name = stepWord(lane, words)
  // Before its film is ready it is refused: nothing but waiting is expected.
  const isWaiting = lane.waits.for === 'hand' && lane.waits.until !== null
  const one = (grit?: number): Act => ({
    key: `hand-${grit ?? ''}`,
    label: words.act.done(name),
    ...(grit === undefined ? {} : { small: `P${grit}` }),
    type: 'DoPrepStep',
    data: { panel: lane.panel, step, ...(grit === undefined ? {} : { grit }) },
    isMain: !isWaiting && (grit === undefined || grit === GRITS[0]),
  })
  const byPad = (pad: Pad): Act => ({
    key: `hand-${pad}`,
    label: words.act.done(name),
    small: words.pads[pad],
    type: 'DoPrepStep',
    data: { panel: lane.panel, step, pad },
    group: 'more',
  })
  if (stage === 'sand' || lane.work === 'abrade')
    return [...GRITS.map((grit) => one(grit)), ...PADS.map(byPad)]
  if (stage !== 'prep' || lane.work !== null) return [one()]
  // A step that does not say what is done in it may be said to be this.
  const works = WORKS.map(
    (work): Act => ({
      key: `work-${work}`,
      label: words.act.done(words.work[work]),
      type: 'DoPrepStep',
      data: { panel: lane.panel, step, work },
      group: 'more',
    }),
  )
  return [one(), ...works]
}
