import { describe, expect, it } from 'vitest'
import { loadProject } from '@/tests/architecture/source/project'
import { listFunctions } from '@/tests/architecture/source/syntax'
import { requireDatabase } from '@/tests/support/database'
import { CALLS } from './calls/all'
import { checkEveryCall } from './calls/attempt'

const database = requireDatabase()

/** What stands before any workspace: it makes one, or finds one by a secret that only the person has. */
const BEFORE_A_WORKSPACE = [
  'invitation/mutations acceptInvitation',
  'person/mutations updatePassword',
  'person/mutations acceptReset',
  'person/mutations acceptSecondFactor',
  'person/mutations createRecoveryCodes',
  'person/mutations endOwnSecondFactor',
  'person/mutations startOwnSecondFactor',
  'person/mutations acceptConfirmation',
  'person/mutations startConfirmation',
  'person/mutations startReset',
  'person/mutations signUp',
  'workspace/mutations createWorkspace',
  'workspace-copy/mutations restoreWorkspaceCopy',
]

describe('the list of calls', () => {
  it('has every function of data.ts and mutations.ts that asks the database', () => {
    const asking = loadProject()
      .filter(({ path }) => /^lib\/features\/[^/]+\/(data|mutations)\.ts$/.test(path))
      .flatMap((file) =>
        listFunctions(file.syntax!)
          .filter(({ exported, node }) => exported && /^Promise\b/.test(node.type?.getText() ?? 'Promise'))
          .map(({ name }) => `${file.path.slice('lib/features/'.length, -'.ts'.length)} ${name}`),
      )
    const called = Object.keys(CALLS).map((name) => name.replace(/,.*/, ''))
    expect([...new Set([...called, ...BEFORE_A_WORKSPACE])].sort()).toEqual(asking.sort())
  })
})

describe('every function of the records, below row-level security', () => {
  checkEveryCall(database)
})
