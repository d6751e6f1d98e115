// Imported first by a process that does long work beside the service: it runs where nothing that is waited for wants to.
import fs from 'node:fs'
import os from 'node:os'
import process from 'node:process'

/** A tenth of a processor beside somebody who is waited for, all of it beside nobody: sheets are waited for too. */
const { PRIORITY_BELOW_NORMAL } = os.constants.priority

/** On Linux every thread has a priority of its own and hands it on to those it starts; elsewhere processes have one. */
const isLinux = process.platform === 'linux'
const own = isLinux ? fs.readdirSync('/proc/self/task').map(Number) : [process.pid]

for (const id of own) {
  try {
    if (os.getPriority(id) < PRIORITY_BELOW_NORMAL) os.setPriority(id, PRIORITY_BELOW_NORMAL)
  } catch (error) {
    // A thread may have ended meanwhile.
    if (error.info?.code !== 'ESRCH') throw error
  }
}
