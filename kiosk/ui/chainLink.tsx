import type { Followed } from '../../machines/contract/genealogy.ts'
import * as own from '../words/chain.ts'
import { useOwnWords } from '../words/words.ts'
import { hashOf } from './route.ts'

/** The part of Trace that follows material: the id of no job. */
export const OF = 'of'
/** The part of Trace that has the shop's records. */
export const RECORDS = 'records'

/** The way to what a cup or a panel came from and what it went on. */
export function ChainLink({ kind, id }: { readonly kind: Followed; readonly id: string }) {
  const say = useOwnWords(own)
  return (
    <a class="button" data-chain={kind} href={hashOf('trace', OF, kind, id)}>
      {say.open}
    </a>
  )
}
