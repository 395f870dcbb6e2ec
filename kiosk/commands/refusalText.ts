import type { Problem, Refusal } from '../../machines/refusals.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { airText, isRecord } from '../units/airText.ts'
import { type Format, secondsOrLength } from '../units/format.ts'
import { namesIn } from '../units/stageNames.ts'
import type { Words } from '../words/en.ts'
import type { Figures } from '../words/refusals.ts'

/** What a refusal says, in the shop's language and units. Pure. */

type Seen = {
  readonly words: Words
  readonly format: Format
  readonly state: State | null
  readonly now: number
}

/** The rules' own sentence, which is English, where this language has none for the code. */
export function refusalText({ code, message, problems = [] }: Refusal, seen: Seen): string {
  const say = seen.words.refused[code]
  if (!say || problems.length === 0) return message
  const figures = figuresOf(seen)
  // Panels of which the same is said are named together.
  const said = new Map<string, string[]>()
  for (const problem of problems) {
    const text = say(problem, figures)
    said.set(text, [...(said.get(text) ?? []), ...panelOf(problem, seen.state)])
  }
  return [...said]
    .map(([text, panels]) => [panels.join(', '), text].filter(Boolean).join(': '))
    .join(' ')
}

function panelOf({ panel, about }: Problem, state: State | null): string[] {
  if (panel === undefined) return []
  return [(state && contextOf(state, 'panel', panel)?.name) || (about ?? panel)]
}

function figuresOf({ words, format, now }: Seen): Figures {
  return {
    ago: (atMs) => secondsOrLength(Math.max(0, now - Number(atMs))),
    degrees: (c) => format.degrees(Number(c)),
    volume: (ml) => format.volume(Number(ml)),
    air: (air) => (isRecord(air) ? airText(air, { words, format }) : String(air)),
    names: (list) => namesIn(list, words),
  }
}
