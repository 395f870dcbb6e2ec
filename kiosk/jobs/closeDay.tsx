import type { ComponentChildren } from 'preact'
import { type Closing, closingOf, opensNextAt } from '../../machines/plan/closing.ts'
import { settingsOf } from '../../machines/shop/settings.ts'
import type { State } from '../../machines/state.ts'
import { panelName } from '../commands/panelName.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Answer } from '../ui/answer.tsx'
import { Hold, Press } from '../ui/buttons.tsx'
import { PageHead } from '../ui/parts.tsx'
import * as own from '../words/day.ts'
import { useOwnWords } from '../words/words.ts'
import { DayDone } from './dayDone.tsx'
import { jobsPath, PANEL } from './names.ts'

/** How far ahead to look for windows where the shop has set no hours. */
const AHEAD_MS = 86_400_000

/** What must not be left overnight, each with the button that ends it. */
export function CloseDay({ state, now }: { state: State; now: number }) {
  const { words, format } = useShop()
  const { back } = words.value.jobs
  const day = useOwnWords(own).closing
  const { sending, ask } = useCommands()
  const opensAt = opensNextAt(settingsOf(state), now)
  const closing = closingOf(state, opensAt ?? now + AHEAD_MS)
  const time = (ms: number) => format.value.timeAndDay(ms, now)
  const end = (ms: number | null) =>
    ms === null ? '' : ms > now ? day.ends(time(ms)) : day.ended(time(ms))
  return (
    <div class="form jobs close-day">
      <PageHead title={day.title} back={back} backTo={jobsPath()} />
      <p>{opensAt === null ? day.noHours : day.opens(time(opensAt))}</p>
      <p class="cautions minor">{day.caution}</p>
      <Answer sending={sending.value} now={now} />
      {isClear(closing) && <p class="sentence">{day.nothing}</p>}
      <Group title={day.running} many={closing.running.length}>
        {closing.running.map(({ panel, job, what, endsAt }) => (
          <Item
            key={panel}
            id={panel}
            name={panelName(state, panel)}
            said={[day[what], end(endsAt)]}
          >
            {what === 'coat' && (
              <Press onPress={() => ask('FinishCoat', { panels: [panel] })}>{day.finished}</Press>
            )}
            <SeePanel job={job} panel={panel} />
          </Item>
        ))}
      </Group>
      <Group title={day.cups} many={closing.cups.length}>
        {closing.cups.map(({ id, cup, endsAt }) => (
          <Item
            key={id}
            id={id}
            name={id.slice(0, 4)}
            said={[cup.name, format.value.volume(cup.totalMl), end(endsAt)]}
          >
            <Press act="used" onPress={() => ask('EmptyCup', { cup: id, how: 'used' })}>
              {day.used}
            </Press>
            <span class="apart">
              <Hold onHeld={() => void ask('EmptyCup', { cup: id, how: 'discarded' })}>
                {day.discard}
              </Hold>
            </span>
          </Item>
        ))}
      </Group>
      <Group title={day.guns} many={closing.guns.length}>
        {closing.guns.map(({ id, name, holds, endsAt }) => (
          <Item key={id} id={id} name={name} said={[holds, end(endsAt)]}>
            <Press act="CleanGun" onPress={() => ask('CleanGun', { gun: id })}>
              {day.cleaned}
            </Press>
          </Item>
        ))}
      </Group>
      <Group title={day.windows} many={closing.windows.length}>
        {closing.windows.map(({ panel, job, shutsAt }) => (
          <Item
            key={panel}
            id={panel}
            name={panelName(state, panel)}
            said={[shutsAt > now ? day.shuts(time(shutsAt)) : day.shut(time(shutsAt))]}
          >
            <SeePanel job={job} panel={panel} />
          </Item>
        ))}
      </Group>
      <DayDone head={state.head} />
    </div>
  )
}

const isClear = ({ cups, guns, windows, running }: Closing): boolean =>
  cups.length + guns.length + windows.length + running.length === 0

function SeePanel({ job, panel }: { job: string; panel: string }) {
  const day = useOwnWords(own).closing
  return (
    <a class="button" href={jobsPath(job, PANEL, panel)}>
      {day.see}
    </a>
  )
}

type GroupProps = {
  readonly title: string
  readonly many: number
  readonly children: ComponentChildren
}

function Group({ title, many, children }: GroupProps) {
  if (many === 0) return null
  return (
    <section class="day-group">
      <h2>{title}</h2>
      <ul class="rows day-rows">{children}</ul>
    </section>
  )
}

type ItemProps = {
  readonly id: string
  readonly name: string
  readonly said: readonly string[]
  readonly children: ComponentChildren
}

function Item({ id, name, said, children }: ItemProps) {
  return (
    <li class="day-row" data-day={id}>
      <span>
        <b>{name}</b> <span class="minor">{said.filter((text) => text !== '').join(' · ')}</span>
      </span>
      <span class="acts">{children}</span>
    </li>
  )
}
