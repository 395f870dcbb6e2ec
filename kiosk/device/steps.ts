/** A countdown changes once a second; checking twice a second shows its end soon enough. */
export const STEP_MS = 500

/** The beginning of the step that an instant is in, both UTC ms. */
export const stepOf = (ms: number, stepMs: number): number => Math.floor(ms / stepMs) * stepMs
