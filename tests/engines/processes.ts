/** Programs in a process group of their own, so that a kill takes all of it and nothing else. */
import { type ChildProcess, type SpawnOptions, spawn } from 'node:child_process'

export const spawnGroup = (command: string, args: readonly string[], options: SpawnOptions = {}): ChildProcess =>
  spawn(command, args, { stdio: 'ignore', ...options, detached: true })

const ended = (child: ChildProcess): Promise<void> =>
  child.exitCode !== null || child.signalCode !== null
    ? Promise.resolve()
    : new Promise(resolve => child.once('exit', () => resolve()))

/** SIGKILL for the leader of a group and everything in it; resolves when none of them runs any more. */
export async function killGroup(leader: ChildProcess): Promise<void> {
  const signal = (name: NodeJS.Signals | 0): boolean => {
    try {
      return process.kill(-leader.pid!, name)
    } catch {
      return false // nobody there
    }
  }
  signal('SIGKILL')
  await ended(leader)
  // Its children die a moment later, and hold locks in the profile until then. As zombies they may stay for init to fetch.
  for (let tries = 0; tries < 40 && signal(0); tries++) await new Promise(resolve => setTimeout(resolve, 25))
}

export async function untilTrue(
  what: string,
  look: () => Promise<boolean> | boolean,
  patienceMs: number,
): Promise<void> {
  for (const end = Date.now() + patienceMs; Date.now() < end; ) {
    if (await look()) return
    await new Promise(resolve => setTimeout(resolve, 25))
  }
  throw new Error(`${what}: not within ${patienceMs / 1000} s`)
}
