import type { Offence, Rule } from '../rule'
import { type Import, listImports } from '../source/imports'
import type { Project } from '../source/project'

const VOCABULARY = ['schema', 'data', 'loaders', 'mutations', 'actions'] as const
const FEATURE_FILE = /^lib\/features\/([^/]+)\/([^/]+?)(\.ts)?$/

/** What each file of a feature may see of its own feature. */
const SEES: Record<string, readonly string[]> = {
  schema: [],
  data: ['schema'],
  loaders: ['schema', 'data'],
  mutations: ['schema', 'data'],
  actions: ['schema', 'data', 'mutations'],
}

const vocabularyIsClosed: Rule = {
  sentence: 'a feature is schema.ts, data.ts, loaders.ts, mutations.ts and actions.ts, and nothing else',
  check: (project) =>
    project
      .filter(({ path }) => path.startsWith('lib/features/'))
      .filter(({ path }) => {
        const [, , name] = FEATURE_FILE.exec(path) ?? []
        return !path.endsWith('.ts') || !VOCABULARY.some((word) => word === name)
      })
      .map(({ path }) => ({ path, line: 1, what: 'is not a file a feature has' })),
  bites: [
    { 'lib/features/moult/queries.ts': '' },
    { 'lib/features/moult/form.tsx': '' },
    { 'lib/features/moult/deep/data.ts': '' },
    { 'lib/features/data.ts': '' },
  ],
  passes: { 'lib/features/moult/data.ts': '', 'lib/features/egg-case/actions.ts': '' },
}

function judgeImports(
  project: Project,
  judge: (from: string[], to: string[], found: Import) => string | undefined,
) {
  return project.flatMap((file): Offence[] => {
    const from = FEATURE_FILE.exec(file.path)
    if (!from) return []
    return listImports(file).flatMap((found) => {
      const to = FEATURE_FILE.exec(found.target)
      const what = to && judge(from, to, found)
      return what ? [{ path: file.path, line: found.line, what }] : []
    })
  })
}

const featuresMeetThroughData: Rule = {
  sentence: 'features see other features through data.ts and schema.ts',
  check: (project) =>
    judgeImports(project, ([, own], [, other, name = ''], { written }) =>
      own !== other && name !== 'data' && name !== 'schema' ? `reaches into ${written}` : undefined,
    ),
  bites: [
    { 'lib/features/sale/mutations.ts': "import { recordDeath } from '@/lib/features/individual/mutations'" },
    { 'lib/features/sale/loaders.ts': "import { loadIndividual } from '../individual/loaders'" },
  ],
  passes: {
    'lib/features/sale/mutations.ts':
      "import { requireIndividual } from '@/lib/features/individual/data'\nimport { saleSchema } from './schema'",
  },
}

const filesOfAFeatureHaveAnOrder: Rule = {
  sentence: 'inside a feature a page reads loaders → data and a form writes actions → mutations → data',
  check: (project) =>
    judgeImports(project, ([, own, from = ''], [, other, to = ''], { written, isTypeOnly }) =>
      own === other && !isTypeOnly && !SEES[from]?.includes(to) ? `${from}.ts imports ${written}` : undefined,
    ),
  bites: [
    { 'lib/features/moult/data.ts': "import { recordMoult } from './mutations'" },
    { 'lib/features/moult/loaders.ts': "import { recordMoult } from './mutations'" },
    { 'lib/features/moult/mutations.ts': "import { recordMoultAction } from './actions'" },
    { 'lib/features/moult/actions.ts': "import { loadMoultPage } from './loaders'" },
    { 'lib/features/moult/schema.ts': "import { listMoults } from './data'" },
  ],
  passes: {
    'lib/features/moult/actions.ts':
      "import { recordMoult } from './mutations'\nimport { moultSchema } from '@/lib/features/moult/schema'",
  },
}

const USERS: { what: RegExp; users: RegExp; say: string }[] = [
  {
    what: /^lib\/features\/[^/]+\/loaders$/,
    users: /^(app\/.*\/?(page|layout|route|not-found)\.tsx?$|lib\/features\/|tests\/|lib\/ops\/)/,
    say: 'only pages and routes load',
  },
  {
    what: /^lib\/features\/[^/]+\/data$/,
    users: /^(app\/.*route\.ts$|lib\/features\/|tests\/|lib\/ops\/|prisma\/seed\/)/,
    say: 'pages read through loaders.ts',
  },
  {
    what: /^lib\/features\/[^/]+\/mutations$/,
    users: /^(app\/.*route\.ts$|lib\/features\/[^/]+\/actions\.ts$|tests\/|lib\/ops\/|prisma\/seed\/)/,
    say: 'forms write through actions.ts',
  },
]

const requestsTakeThreeFiles: Rule = {
  sentence: 'screens reach the records through loaders and actions, the JSON API through data and mutations',
  check: (project) =>
    project.flatMap((file) =>
      listImports(file)
        .filter(({ isTypeOnly }) => !isTypeOnly)
        .flatMap((found) =>
          USERS.filter(({ what, users }) => what.test(found.target) && !users.test(file.path)).map(
            ({ say }) => ({
              path: file.path,
              line: found.line,
              what: `imports ${found.written}: ${say}`,
            }),
          ),
        ),
    ),
  bites: [
    { 'app/w/[workspace]/zones/page.tsx': "import { listZones } from '@/lib/features/zone/data'" },
    { 'app/w/[workspace]/zones/page.tsx': "import { createZone } from '@/lib/features/zone/mutations'" },
    { 'components/zone/zone-form.tsx': "import { loadZones } from '@/lib/features/zone/loaders'" },
  ],
  passes: {
    'app/w/[workspace]/zones/page.tsx':
      "import { loadZones } from '@/lib/features/zone/loaders'\nimport type { ZoneRow } from '@/lib/features/zone/data'",
    'app/api/v1/zones/route.ts': "import { createZone } from '@/lib/features/zone/mutations'",
    'components/zone/zone-form.tsx': "import { createZoneAction } from '@/lib/features/zone/actions'",
  },
}

export const featureRules = [
  vocabularyIsClosed,
  featuresMeetThroughData,
  filesOfAFeatureHaveAnOrder,
  requestsTakeThreeFiles,
]
