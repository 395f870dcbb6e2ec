import { useSignal } from '@preact/signals'
import type { BlendChoice } from '../../machines/job/cards.ts'
import {
  type Blend,
  type BlendInput,
  blendPlan,
  COLOUR_KINDS,
  type ColourKind,
  isColourKind,
} from '../../machines/plan/blendPlan.ts'
import { isTaken } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Field } from '../forms/fields.tsx'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { Choice, worded } from '../ui/parts.tsx'
import * as own from '../words/colour.ts'
import { useOwnWords } from '../words/words.ts'
import { fullName } from './outline.ts'

type Props = {
  readonly job: string
  readonly body: BlendInput['body']
  readonly panels: BlendInput['panels']
  /** As it was given with the color; another text, or none, is asked for here. */
  readonly kind: string | undefined
  readonly decided: readonly BlendChoice[]
  readonly now: number
  /** A neighbor is blended: it goes to the panels that are being chosen. */
  readonly onTake: (panel: string) => void
}

/** Each neighbor of full color with how far and where to end; taken by a touch, or left out with a reason. */
export function BlendAdvice({ job, body, panels, kind, decided, now, onTake }: Props) {
  const say = useOwnWords(own)
  const { words } = useShop()
  const { sending, ask } = useCommands()
  const picked = useSignal<ColourKind | null>(null)
  const leaving = useSignal<string | null>(null)
  if (panels.length === 0) return null
  const known = isColourKind(kind) ? kind : null
  const colour = picked.value ?? known ?? 'metallic'
  const plan = blendPlan({ body, colour, panels })
  const name = (id: string) => fullName(words.value, id)
  const names = (ids: readonly string[]) => ids.map(name).join(', ')
  const decide = async ({ panel, beside, reach }: Blend, reason?: string) => {
    const about = { job, body, on: panel, beside: [...beside] }
    const sent =
      reason === undefined
        ? await ask('DecideBlend', { ...about, blend: true, reachCm: furthest(reach) })
        : await ask('DecideBlend', { ...about, blend: false, reason })
    if (!isTaken(sent)) return
    leaving.value = null
    if (reason === undefined) onTake(panel)
  }
  const ofOwn = plan.clear.filter(
    ({ panel, bodyLineTo }) => bodyLineTo.length > 0 && panels.some((one) => one.panel === panel),
  )
  if (plan.blends.length + plan.cutIn.length + ofOwn.length === 0) return null
  return (
    <section class="stack blend-plan">
      {plan.blends.length > 0 && (
        <>
          <h3>{say.plan}</h3>
          {known === null && (
            <Choice
              name="kind"
              word={say.kindAsk}
              options={worded(COLOUR_KINDS, (one) => say.kinds[one] ?? one)}
              picked={picked.value}
              onPick={(one) => {
                picked.value = isColourKind(one) ? one : null
              }}
            />
          )}
          {known === null && picked.value === null && <p class="minor">{say.kindGuess}</p>}
        </>
      )}
      {plan.cutIn.length > 0 && <p class="sentence">{say.cutIn(names(plan.cutIn))}</p>}
      <Answer sending={sending.value} now={now} />
      <ul class="rows">
        {plan.blends.map((blend) => (
          <Neighbor
            key={blend.panel}
            blend={blend}
            bodyLineTo={plan.clear.find((one) => one.panel === blend.panel)?.bodyLineTo ?? []}
            name={name}
            left={decided.find(({ on, blend: isIn }) => on === blend.panel && !isIn)}
            isLeaving={leaving.value === blend.panel}
            isBusy={sending.value.busy}
            onTake={() => void decide(blend)}
            onAsk={() => {
              leaving.value = leaving.value === blend.panel ? null : blend.panel
            }}
            onLeave={(reason) => void decide(blend, reason)}
          />
        ))}
      </ul>
      {ofOwn.map(({ panel, bodyLineTo }) => (
        <p class="minor" key={panel}>
          {say.clearOfOwn(name(panel), names(bodyLineTo))}
        </p>
      ))}
      {plan.blends.length > 0 && <p class="minor">{say.planWhy}</p>}
    </section>
  )
}

const furthest = (reach: Blend['reach']): number => Math.max(...reach.map(({ reachCm }) => reachCm))

type NeighborProps = {
  readonly blend: Blend
  readonly bodyLineTo: readonly string[]
  readonly name: (panel: string) => string
  readonly left: BlendChoice | undefined
  readonly isLeaving: boolean
  readonly isBusy: boolean
  readonly onTake: () => void
  readonly onAsk: () => void
  readonly onLeave: (reason: string) => void
}

function Neighbor({ blend, bodyLineTo, name, left, isLeaving, isBusy, ...on }: NeighborProps) {
  const say = useOwnWords(own)
  const { format, words } = useShop()
  const why = useSignal('')
  const { panel, beside, isIfSeen, reach } = blend
  const names = (ids: readonly string[]) => ids.map(name).join(', ')
  const clear = bodyLineTo.length > 0 ? say.clearTo(names(bodyLineTo)) : say.clear
  return (
    <li class="neighbor" data-neighbor={panel} data-left={left === undefined ? undefined : ''}>
      <div class="neighbor-line">
        <div>
          <b>{name(panel)}</b>
          <span class="minor">
            {[say.beside(names(beside)), isIfSeen ? say.ifSeen : ''].filter(Boolean).join(' · ')}
          </span>
          {left !== undefined && (
            <span>{say.because(own.whyIn(words.value.locale, left.reason ?? ''))}</span>
          )}
          {left === undefined &&
            reach.map(({ layer, share, reachCm, endsAt }) => (
              <span key={layer}>
                {say.reach(
                  say.layers[layer],
                  `${format.value.number(share * 100, 0)} %`,
                  `${reachCm} cm`,
                  endsAt === 'bodyLine',
                )}
              </span>
            ))}
          {left === undefined && <span>{clear}</span>}
        </div>
        <div class="acts">
          <button
            type="button"
            data-blend={panel}
            disabled={isBusy}
            onClick={on.onTake}
            aria-label={`${say.take}: ${name(panel)}`}
          >
            + {say.take}
          </button>
          {left === undefined && (
            <button
              type="button"
              data-leave={panel}
              aria-expanded={isLeaving}
              aria-label={`${say.leave}: ${name(panel)}`}
              onClick={on.onAsk}
            >
              {say.leave}
            </button>
          )}
        </div>
      </div>
      {isLeaving && (
        <fieldset class="choice" data-why={panel}>
          <legend>{say.why(name(panel))}</legend>
          {say.whys.map((one) => (
            <button type="button" key={one} disabled={isBusy} onClick={() => on.onLeave(one)}>
              {one}
            </button>
          ))}
          <Field
            name={`why-${panel}`}
            word={say.otherWhy}
            value={why.value}
            onInput={(text) => {
              why.value = text
            }}
          />
          <Press
            act="leaveOut"
            isOff={isBusy || why.value.trim() === ''}
            onPress={() => on.onLeave(why.value.trim())}
          >
            {say.leaveWith}
          </Press>
          <Press onPress={on.onAsk}>{say.cancel}</Press>
        </fieldset>
      )}
    </li>
  )
}
