// What the schema language of the client cannot say, printed from the catalogue in a fixed order: constraints,
// expression indexes, triggers, functions, policies, grants, owners. prisma/catalogue.txt holds the expected text.

const SCHEMAS = `('public', 'app')`

/** Each query gives one column `line`. Objects that belong to an extension are the extension's business. */
const QUERIES = [
  `select format('schema %s owner %s %s', nspname, nspowner::regrole, grants)
     from pg_namespace, lateral (select coalesce(string_agg(item::text, ' ' order by item::text), '') as grants
       from unnest(nspacl) item) acl
    where nspname in ${SCHEMAS}`,
  `select format('extension %s', extname) from pg_extension where extname <> 'plpgsql'`,
  `select format('%s %s.%s owner %s row security %s%s grants %s', case relkind when 'v' then 'view' when 'S' then 'sequence' else 'table' end,
            nspname, relname, relowner::regrole,
            case when relforcerowsecurity then 'force row security' when relrowsecurity then 'enabled' else 'none' end,
            coalesce(' options ' || array_to_string(reloptions, ','), ''), grants)
     from pg_class join pg_namespace on pg_namespace.oid = relnamespace, lateral (select coalesce(string_agg(item::text, ' ' order by item::text), '') as grants
       from unnest(relacl) item) acl
    where nspname in ${SCHEMAS} and relkind in ('r', 'p', 'v', 'S') and not EXTENSION('pg_class', pg_class.oid)`,
  `select format('column grant %s.%s %s', attrelid::regclass, attname, grants)
     from pg_attribute join pg_class on pg_class.oid = attrelid join pg_namespace on pg_namespace.oid = relnamespace,
       lateral (select string_agg(item::text, ' ' order by item::text) as grants from unnest(attacl) item) acl
    where nspname in ${SCHEMAS} and attacl is not null`,
  `select format('constraint %s %s %s', conrelid::regclass, conname, pg_get_constraintdef(pg_constraint.oid))
     from pg_constraint join pg_namespace on pg_namespace.oid = connamespace
    where nspname in ${SCHEMAS} and contype in ('c', 'x', 't') and conrelid <> 0`,
  `select format('deferrable %s %s deferred %s', conrelid::regclass, conname, condeferred)
     from pg_constraint join pg_namespace on pg_namespace.oid = connamespace
    where nspname in ${SCHEMAS} and condeferrable`,
  `select format('index %s', pg_get_indexdef(indexrelid))
     from pg_index join pg_class on pg_class.oid = indexrelid join pg_namespace on pg_namespace.oid = relnamespace
    where nspname in ${SCHEMAS} and (indexprs is not null or indpred is not null)`,
  `select format('trigger %s enabled %s', pg_get_triggerdef(pg_trigger.oid), tgenabled)
     from pg_trigger join pg_class on pg_class.oid = tgrelid join pg_namespace on pg_namespace.oid = relnamespace
    where nspname in ${SCHEMAS} and not tgisinternal`,
  `select format(E'function %s owner %s grants %s\\n%s', pg_proc.oid::regprocedure, proowner::regrole, grants, pg_get_functiondef(pg_proc.oid))
     from pg_proc join pg_namespace on pg_namespace.oid = pronamespace,
       lateral (select coalesce(string_agg(item::text, ' ' order by item::text), 'default') as grants from unnest(proacl) item) acl
    where nspname in ${SCHEMAS} and prokind in ('f', 'p') and not EXTENSION('pg_proc', pg_proc.oid)`,
  `select format('policy %s %s %s %s to %s using (%s) check (%s)', polrelid::regclass, polname,
            case when polpermissive then 'permissive' else 'restrictive' end, polcmd,
            (select string_agg(role::regrole::text, ', ' order by role::regrole::text) from unnest(polroles) role),
            pg_get_expr(polqual, polrelid), pg_get_expr(polwithcheck, polrelid))
     from pg_policy`,
  `select format('default grants in %s of %s: %s', defaclnamespace::regnamespace, defaclrole::regrole, grants)
     from pg_default_acl, lateral (select string_agg(item::text, ' ' order by item::text) as grants from unnest(defaclacl) item) acl`,
]

const withoutExtensions = (query) =>
  query.replace(
    /EXTENSION\('(\w+)', ([\w.]+)\)/,
    `exists (select from pg_depend where classid = '$1'::regclass and objid = $2 and deptype = 'e')`,
  )

/** @param {import('pg').Client} client @returns {Promise<string>} */
export async function readCatalogue(client) {
  const parts = []
  for (const query of QUERIES) {
    const { rows } = await client.query({ text: withoutExtensions(query), rowMode: 'array' })
    parts.push(
      rows
        .map(([line]) => line.trimEnd())
        .sort()
        .join('\n'),
    )
  }
  return `${parts.filter(Boolean).join('\n\n')}\n`
}
