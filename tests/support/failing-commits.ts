/**
 * SQL for a database in which about every tenth COMMIT of the service fails, as under a burst of other work: with a
 * serialisation failure, a deadlock or a lock that was not to be had. It is the COMMIT itself that fails, in the
 * database: a deferred trigger raises once a transaction. One place in each ten commits is drawn from the seed, and in
 * one of four tens the commit after it fails too; so nobody who tries five times is ever refused by chance alone.
 */
export const failingCommits = (seed: string): string => `
create schema planted;
create sequence planted.commits minvalue 0 start 0;
create sequence planted.failures minvalue 0 start 0;
create function planted.draw(part text) returns int language sql immutable as
  $$ select abs(hashtext('${seed.replaceAll("'", '')} ' || part) % 1000) $$;
create function planted.fail() returns trigger language plpgsql security definer as $$
declare
  own text := pg_current_xact_id()::text;
  ten bigint;
  place int;
  drawn int;
begin
  if session_user <> 'oothecary_app' or current_setting('planted.tried', true) = own then return null; end if;
  perform set_config('planted.tried', own, true);
  ten := nextval('planted.commits');
  place := ten % 10;
  ten := ten / 10;
  drawn := planted.draw(ten::text) % 9;
  if place = drawn or (place = drawn + 1 and planted.draw('again ' || ten) % 4 = 0) then
    perform nextval('planted.failures');
    raise exception 'planted by a test'
      using errcode = (array['40001', '40P01', '55P03'])[1 + planted.draw('code ' || ten) % 3];
  end if;
  return null;
end $$;
create constraint trigger planted after insert on audit_entry deferrable initially deferred
  for each row execute function planted.fail();
create constraint trigger planted after insert on operation deferrable initially deferred
  for each row execute function planted.fail();`

/** How many commits of the service there were with something in them, and how many of those failed. */
export const COUNT_COMMITS = `select
  (select case when is_called then last_value + 1 else 0 end::int from planted.commits) as tried,
  (select case when is_called then last_value + 1 else 0 end::int from planted.failures) as failed`
