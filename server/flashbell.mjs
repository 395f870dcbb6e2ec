#!/usr/bin/env node
// The command `flashbell`: installs what is missing, then hands over to Bun. Plain Node.
import { spawn } from 'node:child_process'
import { createRequire } from 'node:module'
import { join } from 'node:path'
import { ensureBun, root } from './ensure.mjs'

const args = process.argv.slice(2)
// Why, says server/engine.ts.
const isServer = ['serve', 'practice'].includes(args[0])
const engine = isServer ? createRequire(import.meta.url)('./engine.json') : {}

const child = spawn(ensureBun(), ['--bun', join(root, 'server', 'main.ts'), ...args], {
  stdio: 'inherit',
  // A signal that ends this process at once is not passed on: the server looks for it instead.
  env: { ...engine, ...process.env, FLASHBELL_STARTED_BY: String(process.pid) },
})
// Ctrl-C reaches the child by itself, as it shares the terminal; a service manager signals only us.
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, () => child.kill(signal))
child.on('exit', (code, signal) => process.exit(code ?? (signal === 'SIGINT' ? 130 : 143)))
