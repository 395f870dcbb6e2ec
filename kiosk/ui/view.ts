import type { ComponentType } from 'preact'
import type { Kiosk } from '../device/runtime.ts'
import type { Settings } from '../device/settings.ts'

/** What every screen is given by the frame around it. */
export type ViewProps = {
  readonly kiosk: Kiosk
  readonly settings: Settings
  /** What the route says after the screen's name. */
  readonly rest: readonly string[]
}

/** A screen's component. */
export type View = ComponentType<ViewProps>
