import type { PanelState, SprayPhase } from '../../machines/panel/where.ts'
import type { SprayedStage } from '../../machines/sheet/schema.ts'
import type { ValueOf } from '../../machines/things.ts'

/** The states of the charts, one name for each: the phases of a sprayed stage go after its name. */
export type PanelStateName = Exclude<PanelState, `${SprayedStage}.${SprayPhase}`> | SprayPhase

export const en = {
  panel: {
    unknown: 'not in the job yet',
    prep: 'prep next',
    due: 'no coat yet',
    coating: 'being sprayed',
    between: 'between coats',
    abraded: 'abraded',
    sentBack: 'sent back',
    'cure.due': 'cure next',
    'cure.running': 'curing',
    sand: 'sanding next',
    polish: 'polishing next',
    finished: 'to inspect and pass',
    passed: 'passed',
    removed: 'removed',
  } satisfies Record<PanelStateName, string>,
  cup: {
    unmixed: 'not mixed yet',
    live: 'in use',
    stored: 'in use, without pot life',
    emptied: 'empty',
  } satisfies Record<ValueOf<'cup'>, string>,
  gun: {
    clean: 'clean',
    loaded: 'loaded',
    dirty: 'holds another material: clean it',
  } satisfies Record<ValueOf<'gun'>, string>,
  job: {
    unknown: 'not open yet',
    open: 'open',
    paused: 'prompts silenced',
    closed: 'closed',
  } satisfies Record<ValueOf<'job'>, string>,
}
