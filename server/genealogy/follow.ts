import type { CoatOf, Followed, GenealogyAnswer } from '../../machines/contract/genealogy.ts'
import { workTurn } from '../turn.ts'
import type { Genealogy } from './index.ts'

/** Cups that are looked at in one turn of the loop: commands and answers come between. */
const CUPS_A_TURN = 200

/** Everything that is reached from some cups, themselves included: a pour may be poured on, and joined again. */
async function reached(
  from: readonly string[],
  next: (cup: string) => readonly string[],
): Promise<string[]> {
  const known = new Set(from)
  let looked = 0
  // A set gives what is added to it while it is walked.
  for (const cup of known) {
    for (const one of next(cup)) known.add(one)
    looked += 1
    if (looked % CUPS_A_TURN === 0) await workTurn()
  }
  return [...known]
}

type Page = { readonly skip: number; readonly limit: number }

/**
 * What a lot, a cup or a panel reaches. A lot and a cup are followed forward, through every cup that was
 * poured from them, to the coats; the cups of the page are followed back to their lots. A panel is followed
 * back alone: what else its cups were sprayed on is theirs.
 * @returns null for what no entry names
 */
export async function followed(
  { kind, id }: { readonly kind: Followed; readonly id: string },
  index: Genealogy,
  { skip, limit }: Page,
): Promise<Omit<GenealogyAnswer, 'behind'> | null> {
  const first = kind === 'lot' ? index.cupsOfLot(id) : kind === 'cup' ? [id] : []
  const forward = await reached(first, index.children)
  const coats = kind === 'panel' ? index.coatsOfPanel(id) : await coatsOf(forward, index)
  const cups = kind === 'panel' ? [...new Set(coats.map(({ cup }) => cup))] : forward
  const isKnown =
    coats.length > 0 || (kind === 'cup' ? index.cup(id).mixedAt !== null : cups.length > 0)
  if (!isKnown) return null
  const page = coats.toSorted((a, b) => b.at - a.at).slice(skip, skip + limit)
  const own = page.length === 0 ? cups.slice(0, limit) : page.map(({ cup }) => cup)
  const back = await reached(kind === 'cup' ? [id, ...own] : own, index.parents)
  return {
    of: { kind, id },
    counts: {
      coats: coats.length,
      panels: new Set(coats.map(({ panel }) => panel)).size,
      jobs: new Set(coats.flatMap(({ job }) => job ?? [])).size,
      cups: cups.length,
    },
    coats: page.map(index.named),
    cups: back.map(index.cup),
    isMore: coats.length > skip + page.length,
  }
}

async function coatsOf(cups: readonly string[], index: Genealogy) {
  const found: Omit<CoatOf, 'panelName' | 'jobTitle'>[] = []
  for (const [i, cup] of cups.entries()) {
    found.push(...index.coatsOfCup(cup))
    if (i % CUPS_A_TURN === CUPS_A_TURN - 1) await workTurn()
  }
  return found
}
