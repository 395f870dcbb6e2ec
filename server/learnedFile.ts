import { mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import { dirname } from 'node:path'
import type { Entry } from '../machines/envelope.ts'
import { learnedAfter } from '../machines/plan/learnFold.ts'
import {
  figuresOf,
  type LearnedFigures,
  type Learning,
  NOTHING_LEARNED,
} from '../machines/plan/learning.ts'
import { keptText, readKept } from './log/keptJson.ts'
import type { SideIndex } from './sideIndex/follow.ts'

/**
 * What a shop's log has taught of its own figures, beside the path of a command: a file that can be made
 * again from the log at any time, and is no larger after ten years than after one.
 */
export type LearnedLog = SideIndex & { readonly figures: () => LearnedFigures }

/** Goes up with every change of what is kept, or of what a case is: an older file is made anew. */
const VERSION = 1
/** It is written after so many entries, and when the server stops: after a kill these are read again. */
const EVERY = 2_000

type Kept = {
  readonly version: number
  readonly position: number
  readonly hash: string
  readonly learning: Learning
}

/** @param path the file; null keeps it in memory */
export function openLearned(path: string | null): LearnedLog {
  let kept = path === null ? null : readFile(path)
  let written = kept?.position ?? 0
  const write = () => {
    if (path === null || kept === null) return
    mkdirSync(dirname(path), { recursive: true })
    writeFileSync(`${path}.part`, keptText(kept))
    renameSync(`${path}.part`, path)
    written = kept.position
  }
  return {
    read: () => kept && { position: kept.position, hash: kept.hash },
    take(entries) {
      const last = entries.at(-1)
      if (!last) return
      const learning = entries.reduce(learnedFrom, kept?.learning ?? NOTHING_LEARNED)
      kept = { version: VERSION, position: last.position, hash: last.hash, learning }
      if (last.position - written >= EVERY) write()
    },
    clear() {
      kept = null
      written = 0
    },
    close() {
      try {
        write()
      } catch {
        // What could not be written is read from the log again.
      }
    },
    figures: () => figuresOf(kept?.learning ?? NOTHING_LEARNED),
  }
}

/** An entry of which nothing can be made teaches nothing; the log itself is looked through elsewhere. */
export function learnedFrom(learning: Learning, entry: Entry): Learning {
  try {
    return learnedAfter(learning, entry)
  } catch {
    return learning
  }
}

function readFile(path: string): Kept | null {
  try {
    const value = readKept<Kept>(readFileSync(path, 'utf8'))?.value
    return value?.version === VERSION ? value : null
  } catch {
    return null
  }
}
