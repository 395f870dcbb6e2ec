/**
 * A disk that reports errors to a running server: strace(1) attaches to the process and answers its
 * writes in the kernel's place. Unlike a limit of the process this fails also what has room, and syncs.
 */

export type DiskCall = 'pwrite64' | 'fsync' | 'fdatasync'

export type DiskFault = {
  /** What fails. */
  readonly calls: readonly DiskCall[]
  /** The error that the kernel gives (errno(3)). */
  readonly error: 'EIO' | 'ENOSPC'
  /** How many of these calls succeed before the first that fails. */
  readonly after: number
}

/** @throws where strace is not installed, with how to get it */
export function requireStrace(): void {
  if (Bun.which('strace') === null)
    throw new Error('This drill needs strace, which is missing: apt-get install strace')
}

/**
 * Lets a process's writes fail from a moment on.
 * @returns what makes the disk whole again
 * @throws where this user may not trace the process (ptrace(2))
 */
export async function failingDisk(pid: number, fault: DiskFault): Promise<() => Promise<void>> {
  const calls = fault.calls.join()
  const inject = `inject=${calls}:error=${fault.error}:when=${fault.after + 1}+`
  const options = ['-f', '-qqq', '-e', `trace=${calls}`, '-e', inject, '-e', 'signal=none']
  const tracer = Bun.spawn(['strace', ...options, '-o', '/dev/null', '-p', String(pid)], {
    stdin: 'ignore',
    stdout: 'ignore',
    stderr: 'pipe',
  })
  const refused = new Response(tracer.stderr).text()
  while (!(await isTraced(pid))) {
    if (tracer.exitCode !== null) throw new Error(`strace did not attach: ${await refused}`)
    await Bun.sleep(5)
  }
  return async () => {
    tracer.kill('SIGINT')
    await tracer.exited
  }
}

/** Whether every thread of a process has a tracer (proc(5), status). */
async function isTraced(pid: number): Promise<boolean> {
  const threads = await Array.fromAsync(new Bun.Glob('*/status').scan(`/proc/${pid}/task`))
  const tracers = await Promise.all(
    threads.map(async (path) => {
      const status = await Bun.file(`/proc/${pid}/task/${path}`).text()
      return /^TracerPid:\s+(\d+)$/m.exec(status)?.[1]
    }),
  )
  return tracers.length > 0 && tracers.every((tracer) => tracer !== '0')
}
