import { describe, expect, it } from 'vitest'
import { z } from 'zod'
import { isWrappedAction, openAction } from '@/lib/platform/action'
import { loadProject } from './source/project'

const actionFiles = loadProject()
  .map(({ path }) => path)
  .filter((path) => /^lib\/features\/[^/]+\/actions\.ts$/.test(path))

describe('every server action, asked at run time', () => {
  it.each(actionFiles)('%s exports nothing but what the wrapper built', async (path) => {
    const exported: Record<string, object> = await import(/* @vite-ignore */ `@/${path}`)
    const bare = Object.entries(exported).filter(([, action]) => !isWrappedAction(action))
    expect(bare.map(([name]) => name)).toEqual([])
  })

  it('and a plain function is told from a wrapped one', () => {
    expect(isWrappedAction(async () => ({ status: 'done' }))).toBe(false)
    expect(
      isWrappedAction(openAction(z.strictObject({}), async () => ({ status: 'failed', reference: '' }))),
    ).toBe(true)
  })
})
