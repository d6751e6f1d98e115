import { findInLines, type Rule } from '../rule'

// Written in pieces, so that this file does not offend itself.
const glue = (...pieces: string[]) => pieces.join('')

// Fonts come with licences in their makers' words.
const isText = (path: string) =>
  !/\.(ttf|otf|woff2?|png|wasm)$/.test(path) && !path.startsWith('lib/documents/fonts/')

const MACHINE_PATHS = new RegExp(
  glue('(^|[\\s\'"`(=:])', '/(work|root|home/\\w+|Users/\\w+|tmp/\\w+)', '(/|\\b)'),
)

const noPathsOfAMachine: Rule = {
  sentence: 'no file names a path of the machine it was written on',
  check: (project) =>
    findInLines(project, isText, (line) =>
      MACHINE_PATHS.test(line) ? 'names a path of a machine' : undefined,
    ),
  bites: [
    { 'lib/ops/up.mjs': glue("const folder = '/", "work/main'") },
    { 'README.md': glue('see /', 'root/notes') },
    { 'tests/ops/up.test.ts': glue("const folder = '/", "tmp/here'") },
  ],
  passes: {
    'app/page.tsx': "const workspace = '/w/larch-lane-mantids'\nconst link = <a href='/workspaces'>",
  },
}

const HOSTS = new RegExp(
  glue(
    '(registry\\.(npm',
    'js|yarn',
    'pkg|npm',
    'mirror)|npm',
    'mirror\\.com|pypi\\.org|files\\.python',
    'hosted|',
    'deb\\.deb',
    'ian\\.org|unpk',
    'g\\.com|jsdeliv',
    'r\\.net|esm\\.s',
    'h|cdnj',
    's\\.|',
    'fonts\\.(google',
    'apis|gst',
    'atic)|use\\.type',
    'kit|binaries\\.pri',
    'sma)',
  ),
)

const noForeignHosts: Rule = {
  sentence: 'nothing names a package registry, a font service or a distribution network',
  check: (project) =>
    findInLines(project, isText, (line) =>
      HOSTS.test(line) ? 'names a host of packages or fonts' : undefined,
    ),
  bites: [
    { '.npmrc': glue('registry=https://registry.npm', 'js.org') },
    { 'app/globals.css': glue("@import url('https://fonts.google", "apis.com/css2')") },
    { 'package-lock.json': glue('"resolved": "https://registry.npm', 'mirror.com/zod"') },
  ],
  passes: { 'app/layout.tsx': "import '@fontsource-variable/literata'" },
}

/** Names that stand for something else than a place to fetch from: this machine, examples, names of XML. */
const KNOWN_ADDRESS =
  /^https?:\/\/(127\.0\.0\.1|localhost|0\.0\.0\.0|\[::1\]|(www\.)?w3\.org|[\w.-]*\bexample(\.(com|org|net))?|[\w.-]+\.(test|invalid|example)|www\.rfc-editor\.org|doi\.org|\$\{)/

const noAddressIsFetched: Rule = {
  sentence: 'the product holds no address of the network to fetch from',
  check: (project) =>
    findInLines(
      project,
      (path) =>
        /^(app|components|lib|prisma|proxy\.ts|instrumentation\.ts|docker-compose\.yml)/.test(path) &&
        isText(path),
      (line) => {
        const address = [...line.matchAll(/https?:\/\/[\w$[][^\s'"`)<>]*/g)].find(
          ([found]) => !KNOWN_ADDRESS.test(found),
        )
        return address ? `holds ${address[0]}` : undefined
      },
    ),
  bites: [
    { 'components/shell/shell.tsx': "<script src='https://cdn.somewhere.io/kit.js' />" },
    { 'app/globals.css': "@font-face { src: url('http://fonts.somewhere.io/a.woff2') }" },
  ],
  passes: {
    'components/ui/icon.tsx': "<svg xmlns='http://www.w3.org/2000/svg' />",
    'lib/ops/up.mjs': `say(\`http://127.0.0.1:\${port}\`)\nsay(\`http://\${host}\`)`,
  },
}

const WORDS = new RegExp(glue('\\b(tran', 'script|seed doc', 'ument|design ca', 'rd)s?\\b'), 'i')

const noForeignWords: Rule = {
  sentence: 'the project speaks of the trade, not of how it was made',
  check: (project) =>
    findInLines(project, isText, (line) =>
      WORDS.test(line) ? 'uses a word that is not its own' : undefined,
    ),
  bites: [{ 'README.md': glue('as the tran', 'script says') }],
  passes: { 'README.md': 'A clutch is the siblings of one hatch.' },
}

export const textRules = [noPathsOfAMachine, noForeignHosts, noAddressIsFetched, noForeignWords]
