import type { ShopFigure } from '../../machines/sheet/context.ts'
import { READY_FOR } from '../../machines/sheet/shopFigure.ts'
import type { en } from '../words/ready.ts'

/** What a shop said once where a sheet is silent, in words: the last word of each. Pure. */

type Say = {
  readonly words: typeof en
  readonly minutes: (min: number) => string
  readonly temperature: (tempC: number) => string
  readonly layer: (stage: string) => string
}
type Said = { readonly key: string; readonly word: string; readonly text: string }

export function saidOnce(
  figures: readonly ShopFigure[],
  { words, minutes, temperature, layer }: Say,
): Said[] {
  const drop = figures.findLast(({ dropOver }) => dropOver !== undefined)?.dropOver
  const layers = [...new Set(figures.flatMap(({ prep }) => prep?.over ?? []))]
  const preps = layers.flatMap((over) => figures.findLast(({ prep }) => prep?.over === over) ?? [])
  const ready = READY_FOR.flatMap((what) => {
    const after = figures.findLast((one) => one.ready?.for === what)?.ready?.after
    if (after === undefined) return []
    const points = typeof after === 'number' ? [{ atC: 20, minutes: after }] : after
    const text =
      points === 'none'
        ? words.noWait
        : points.map((one) => `${minutes(one.minutes)} / ${temperature(one.atC)}`).join(', ')
    return [{ key: what, word: words.readyTo[what], text }]
  })
  const keeps = [false, true].flatMap((reduced) => {
    const days = figures.findLast(({ keep }) => keep?.reduced === reduced)?.keep?.days
    if (days === undefined) return []
    const text = days === 'unlimited' ? words.noLimit : words.days(days)
    const word = reduced ? words.keepsForReduced : words.keepsFor
    return [{ key: reduced ? 'keep-reduced' : 'keep', word, text: text.toLowerCase() }]
  })
  return [
    ...ready,
    ...keeps,
    ...(drop === undefined ? [] : [{ key: 'drop', word: words.drop, text: words.over[drop] }]),
    ...preps.flatMap(({ prep }) => {
      const grit = prep?.gritMin ?? prep?.gritMax
      return prep === undefined || grit === undefined
        ? []
        : [
            {
              key: `prep-${prep.over}`,
              word: words.abrade,
              text: `${layer(prep.over)}: ${words.grit(grit)}`,
            },
          ]
    }),
  ]
}
