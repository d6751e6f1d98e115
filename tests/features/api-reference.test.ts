import fs from 'node:fs'
import path from 'node:path'
import { describe, expect, test } from 'vitest'
import { GET } from '@/app/api/v1/openapi.json/route'
import { loadReferencePage } from '@/lib/features/api-reference/loaders'
import { API_OPERATIONS } from '@/lib/features/api-reference/schema'

const folder = path.resolve(import.meta.dirname, '../../app/api/v1')

/** Every method that a route file of the API answers, as `post /egg-cases/{id}/hatches`. */
function listRoutes(): string[] {
  const files = fs.readdirSync(folder, { recursive: true, encoding: 'utf8' })
  return files
    .filter((file) => path.basename(file) === 'route.ts')
    .flatMap((file) => {
      const address = `/${path.dirname(file)}`.replaceAll(/\[(\w+)\]/g, '{$1}')
      const text = fs.readFileSync(path.join(folder, file), 'utf8')
      const methods = [
        ...text.matchAll(/export (?:const|async function|function) (GET|POST|PATCH|PUT|DELETE)\b/g),
      ]
      return methods.map((found) => `${found[1]?.toLowerCase()} ${address}`)
    })
}

/** The document itself, and calendars, which send no token. */
const OUTSIDE = /(openapi\.json|calendar\.ics)$/

describe('the reference of the API', () => {
  test('lists every call that is answered, and none that is not', () => {
    const answered = listRoutes().filter((route) => !OUTSIDE.test(route))
    const listed = API_OPERATIONS.map(({ method, path: address }) => `${method} ${address}`)
    expect([...listed].sort()).toEqual(answered.sort())
    expect(new Set(API_OPERATIONS.map(({ id }) => id)).size).toBe(API_OPERATIONS.length)
  })

  test('is an OpenAPI 3.1 document whose references all lead somewhere', async () => {
    const document = await GET().json()
    expect(document.openapi).toBe('3.1.0')
    const text = JSON.stringify(document)
    const referred = [...text.matchAll(/"#\/components\/schemas\/(\w+)"/g)].map((found) => found[1] ?? '')
    expect(referred.length).toBeGreaterThan(10)
    expect(referred.filter((name) => !(name in document.components.schemas))).toEqual([])
    expect(document.paths['/zones'].post.requestBody.content['application/json'].schema).toMatchObject({
      additionalProperties: false,
      required: ['name', 'setTemperatureC'],
    })
    expect(Object.keys(document.paths['/zones'].post.responses)).toContain('201')
    expect(text).not.toMatch(/https?:\/\/(?!json-schema)/)
  })

  test('says of each call what it takes and what it gives', () => {
    const calls = loadReferencePage().flatMap(({ calls: each }) => each)
    const create = calls.find(({ id }) => id === 'createContainerKind')
    expect(create?.body.map(({ path: field }) => field)).toContain('ordered.count')
    expect(create?.answer.map(({ path: field }) => field)).toContain('free')
    expect(calls.filter(({ method, body }) => method !== 'GET' && body.length === 0)).toEqual([])
    expect(
      calls.filter(
        ({ answer, path: address }) =>
          answer.length === 0 && !/\.pdf$|\/files\/\{file\}$|^\/export$/.test(address),
      ),
    ).toEqual([])
  })
})
