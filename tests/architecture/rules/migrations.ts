import type { Offence, Rule } from '../rule'

const isMigration = (path: string) => /^prisma\/migrations\/.*\.sql$/.test(path)

/** The statements of a migration, without comments, the bodies of functions and what stands in quotes. */
function listStatements(text: string): { sql: string; line: number }[] {
  const blank = (found: string) => found.replace(/[^\n]/g, ' ')
  const bare = text.replace(/(\$\w*\$)[\s\S]*?\1|--[^\n]*|'[^']*'/g, blank)
  let at = 0
  return bare.split(';').map((sql) => {
    const line = bare.slice(0, at + sql.search(/\S|$/)).split('\n').length
    at += sql.length + 1
    return { sql: sql.trim(), line }
  })
}

const CHANGES = /^(?:update|delete\s+from|insert\s+into|merge\s+into)\s+(?:only\s+)?(?:public\.)?"?(\w+)/i

function forces(statements: { sql: string }[], table: string, force: string): boolean {
  const asked = new RegExp(`^alter table "?${table}"? ${force} row level security$`, 'i')
  return statements.some(({ sql }) => asked.test(sql.replace(/\s+/g, ' ')))
}

const backfillsSeeEveryWorkspace: Rule = {
  sentence:
    'a migration that fills in records lifts the force of row-level security before, and puts it back after',
  check: (project) =>
    project
      .filter(({ path }) => isMigration(path))
      .flatMap(({ path, text }) => {
        const statements = listStatements(text)
        return statements.flatMap(({ sql, line }, index): Offence[] => {
          const table = CHANGES.exec(sql)?.[1]
          if (!table) return []
          const [before, after] = [statements.slice(0, index), statements.slice(index)]
          // The trail of the change is written below the same force.
          const isWrapped = [table, 'audit_entry'].every(
            (each) => forces(before, each, 'no force') && forces(after, each, 'force'),
          )
          return isWrapped ? [] : [{ path, line, what: `changes ${table} below row-level security` }]
        })
      }),
  bites: [
    { 'prisma/migrations/20270101000000_colour/migration.sql': "UPDATE zone SET name = 'x';" },
    {
      'prisma/migrations/20270101000000_colour/migration.sql':
        'ALTER TABLE zone NO FORCE ROW LEVEL SECURITY;\nINSERT INTO zone (name) SELECT name FROM zone;',
    },
    {
      'prisma/migrations/20270101000000_colour/migration.sql':
        'ALTER TABLE zone NO FORCE ROW LEVEL SECURITY;\nUPDATE moult SET note = note;\nALTER TABLE zone FORCE ROW LEVEL SECURITY;',
    },
  ],
  passes: {
    'prisma/migrations/20270101000000_colour/migration.sql':
      "-- UPDATE nothing;\nALTER TABLE zone NO FORCE ROW LEVEL SECURITY;\nALTER TABLE audit_entry NO FORCE ROW LEVEL SECURITY;\nUPDATE zone SET name = 'a; b';\nALTER TABLE zone FORCE ROW LEVEL SECURITY;\nALTER TABLE audit_entry FORCE ROW LEVEL SECURITY;\nCREATE FUNCTION f() RETURNS void LANGUAGE sql AS $$ UPDATE zone SET name = name; $$;",
  },
}

const migrationsOnlyGoForward: Rule = {
  sentence: 'a migration begins and ends no transaction of its own and drops no table',
  check: (project) =>
    project
      .filter(({ path }) => isMigration(path))
      .flatMap(({ path, text }) =>
        listStatements(text)
          .filter(({ sql }) => /^(begin|commit|rollback|start transaction|drop table|truncate)\b/i.test(sql))
          .map(({ sql, line }) => ({ path, line, what: `says ${sql.slice(0, 20)}` })),
      ),
  bites: [
    { 'prisma/migrations/20270101000000_colour/migration.sql': 'BEGIN;\nCREATE TABLE a (b int);\nCOMMIT;' },
    { 'prisma/migrations/20270101000000_colour/migration.sql': 'DROP TABLE zone;' },
  ],
  passes: {
    'prisma/migrations/20270101000000_colour/migration.sql':
      'CREATE FUNCTION f() RETURNS void LANGUAGE plpgsql AS $$\nBEGIN\n  NULL;\nEND $$;',
  },
}

export const migrationRules = [backfillsSeeEveryWorkspace, migrationsOnlyGoForward]
