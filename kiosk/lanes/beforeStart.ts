import type { CommandInput } from '../../machines/commands.ts'
import { cupEndsAt } from '../../machines/cup/ends.ts'
import { coatMl, leftIn } from '../../machines/cup/left.ts'
import { dueStep } from '../../machines/panel/context.ts'
import { filmAfter } from '../../machines/panel/film.ts'
import { panelsWithin } from '../../machines/panel/spraying.ts'
import { sheetAt } from '../../machines/sheet/fold.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { actsIn } from '../words/acts.ts'
import type { Words } from '../words/en.ts'

/** As the sheet prints it, or a flow cup and its seconds. */
const viscosityText = (said: NonNullable<Sheet['viscosity']>): string =>
  typeof said === 'string' ? said : `${said.seconds} s ${said.cup}`

/**
 * What a painter has to know before a start is pressed and what forbids nothing: each a sentence. Pure.
 * @param now kiosk time, UTC ms
 * @param volume as the shop writes it
 */
export function beforeStart(
  state: State,
  start: CommandInput<'StartCoat'>,
  words: Words,
  now: number,
  volume: (ml: number) => string,
): string[] {
  const cup = contextOf(state, 'cup', start.cup)
  const sheet = sheetAt(state, cup?.sheet, now)?.sheet
  if (!cup || !sheet) return []
  const { before } = actsIn(words)
  const panels = start.panels.flatMap((id) => contextOf(state, 'panel', id) ?? [])
  const endsAt = cupEndsAt(state, cup)
  const kind = start.kind ?? 'full'
  const left = leftIn(state, start.cup, cup)
  const needs = panels.map((panel) => {
    const step = start.step ?? dueStep(panel)
    const coat = { step, startedAt: now, isEstimated: true, kind, cups: [start.cup], gun: null }
    return coatMl(state, { coat, panel }, cup.sheet)
  })
  const needsMl = needs.reduce<number>((sum, ml) => sum + (ml ?? 0), 0)
  const lasts = endsAt === null || endsAt <= now ? null : panelsWithin(state, panels, now, endsAt)
  const films = panels.flatMap((panel) => {
    const film = filmAfter(state, panel, { sheet: sheet.sheet, kind, step: start.step }, now)
    return film !== null && film.um > film.mostUm
      ? [before.filmOver(panel.name, film.um, film.mostUm)]
      : []
  })
  return [
    ...(sheet.strainUm !== undefined && !cup.isUsed ? [before.strain(sheet.strainUm)] : []),
    ...(sheet.viscosity !== undefined && !cup.isUsed
      ? [before.viscosity(viscosityText(sheet.viscosity))]
      : []),
    ...(sheet.finish === 'matte' ? [before.matte] : []),
    ...(left.isEstimate && left.ml === 0 ? [before.shouldBeEmpty] : []),
    ...(left.ml > 0 && left.ml < needsMl
      ? [before.fewMl(volume(left.ml), volume(Math.round(needsMl)))]
      : []),
    ...(lasts !== null && lasts < panels.length ? [before.lasts(lasts, panels.length)] : []),
    ...films,
  ]
}
