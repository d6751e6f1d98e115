import fs from 'node:fs'
import path from 'node:path'

const BUILD = path.resolve(import.meta.dirname, '../../..', process.env.DIST_DIR ?? '.next')

function readManifest(name: string): unknown {
  return JSON.parse(fs.readFileSync(path.join(BUILD, name), 'utf8'))
}

export type EntryPoints = {
  pages: string[]
  routes: string[]
  actions: { id: string; name: string; page: string }[]
}

type ActionEntry = { workers: Record<string, unknown>; filename: string; exportedName: string }

/** What the build itself says can be asked for: pages, route handlers, server actions. */
export function listEntryPoints(): EntryPoints {
  const paths = Object.entries(readManifest('app-path-routes-manifest.json') as Record<string, string>)
  const { node } = readManifest('server/server-reference-manifest.json') as {
    node: Record<string, ActionEntry>
  }
  const endingIn = (kind: string) =>
    paths
      .filter(([file]) => file.endsWith(`/${kind}`) && !file.startsWith('/_'))
      .map(([, route]) => route)
      .sort()
  return {
    pages: endingIn('page'),
    routes: endingIn('route'),
    actions: Object.entries(node).map(([id, { workers, filename, exportedName }]) => ({
      id,
      name: `${/lib\/features\/(.*)\.ts$/.exec(filename)?.[1]} ${exportedName}`,
      page: (Object.keys(workers)[0] ?? '').replace(/^app|\/page$/g, ''),
    })),
  }
}
