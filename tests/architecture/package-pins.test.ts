import { readFileSync } from 'node:fs'
import path from 'node:path'
import { describe, expect, it } from 'vitest'
import { ROOT } from './source/project'

type Manifest = { dependencies: Record<string, string>; devDependencies: Record<string, string> }
type Lock = {
  packages: Record<
    string,
    { version?: string; resolved?: string; integrity?: string; link?: boolean; inBundle?: boolean }
  >
}

const readJson = (name: string) => JSON.parse(readFileSync(path.join(ROOT, name), 'utf8'))

/** Below these something is unsafe or known to break; `major` where the next one must not slip in. */
const FLOORS: { name: string; least: string; major?: number; because: string }[] = [
  { name: 'next', least: '16.4.1', major: 16, because: 'the releases before have known holes' },
  { name: 'next-auth', least: '4.24.11', major: 4, because: 'the next major keeps sessions otherwise' },
  { name: 'prisma', least: '7.10.0', major: 7, because: 'the fence is written against its transactions' },
  { name: '@prisma/client', least: '7.10.0', major: 7, because: 'it goes with prisma' },
  { name: '@prisma/adapter-pg', least: '7.10.0', major: 7, because: 'it goes with prisma' },
  { name: '@prisma/driver-adapter-utils', least: '7.10.0', major: 7, because: 'it goes with prisma' },
  { name: 'pg', least: '8.16.0', major: 8, because: 'the adapter and the queue are written for it' },
  { name: 'react', least: '19.2.3', major: 19, because: 'server components before have known holes' },
  { name: 'react-dom', least: '19.2.3', major: 19, because: 'it goes with react' },
  { name: 'nodemailer', least: '7.0.11', major: 7, because: 'next-auth 4 asks for it' },
  { name: 'zod', least: '4.1.0', major: 4, because: 'strict objects and JSON schema of that major' },
  { name: 'vitest', least: '4.0.0', major: 4, because: 'the next major needs a newer Node' },
  { name: 'typescript', least: '6.0.0', major: 6, because: 'the rules of this folder read its syntax trees' },
]

const compare = (one: string, other: string) => one.localeCompare(other, 'en', { numeric: true })

function findLoosePins(manifest: Manifest): string[] {
  return Object.entries({ ...manifest.dependencies, ...manifest.devDependencies })
    .filter(([, pin]) => !/^\d+\.\d+\.\d+(-[\w.]+)?$/.test(pin))
    .map(([name, pin]) => `${name} ${pin}`)
}

function findTooOld(lock: Lock): string[] {
  return FLOORS.flatMap(({ name, least, major, because }) => {
    const version = lock.packages[`node_modules/${name}`]?.version
    if (!version) return [`${name} is not in the lock file`]
    if (compare(version, least) < 0) return [`${name} ${version} is older than ${least}: ${because}`]
    return major !== undefined && !version.startsWith(`${major}.`)
      ? [`${name} ${version} left ${major}: ${because}`]
      : []
  })
}

function findDrift(manifest: Manifest, lock: Lock): string[] {
  return Object.entries({ ...manifest.dependencies, ...manifest.devDependencies })
    .filter(([name, pin]) => lock.packages[`node_modules/${name}`]?.version !== pin)
    .map(([name, pin]) => `${name} is ${lock.packages[`node_modules/${name}`]?.version}, not ${pin}`)
}

describe('packages', () => {
  it('are pinned to one exact version', () => {
    expect(findLoosePins(readJson('package.json'))).toEqual([])
    expect(
      findLoosePins({ dependencies: { zod: '^4.0.0' }, devDependencies: { next: 'latest' } }),
    ).toHaveLength(2)
  })

  it('are locked to what package.json says', () => {
    expect(findDrift(readJson('package.json'), readJson('package-lock.json'))).toEqual([])
    const planted = { packages: { 'node_modules/zod': { version: '4.0.0' } } }
    expect(findDrift({ dependencies: { zod: '4.6.7' }, devDependencies: {} }, planted)).toHaveLength(1)
  })

  it('are not older than what is known to be safe, and stay on their major', () => {
    expect(findTooOld(readJson('package-lock.json'))).toEqual([])
    expect(findTooOld({ packages: { 'node_modules/next': { version: '16.4.0' } } })).toContain(
      'next 16.4.0 is older than 16.4.1: the releases before have known holes',
    )
    expect(findTooOld({ packages: { 'node_modules/pg': { version: '9.0.0' } } }).join()).toContain('left 8')
  })

  it('are checked by their sum and tied to no server', () => {
    const { packages }: Lock = readJson('package-lock.json')
    const loose = Object.entries(packages)
      .filter(([name, entry]) => name !== '' && !entry.link && !entry.inBundle)
      .filter(([, { integrity, resolved }]) => !integrity || resolved !== undefined)
      .map(([name]) => name)
    expect(loose).toEqual([])
  })
})
