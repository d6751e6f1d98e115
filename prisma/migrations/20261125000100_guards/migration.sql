-- What Prisma's schema cannot say: who may touch what, which rows they see, and what must always be true.
-- The roles are made before any migration (lib/ops/roles.mjs).

CREATE SCHEMA app;
REVOKE ALL ON SCHEMA public FROM PUBLIC;
GRANT USAGE ON SCHEMA public, app TO oothecary_app, oothecary_auth, oothecary_backup;
GRANT USAGE ON SCHEMA app TO oothecary_jobs;
ALTER DEFAULT PRIVILEGES REVOKE EXECUTE ON FUNCTIONS FROM PUBLIC;

-- ── The workspace of this transaction ────────────────────────────────────────────────────────────
-- No workspace set is an error, never an empty list.
CREATE FUNCTION app.workspace() RETURNS uuid LANGUAGE plpgsql STABLE PARALLEL SAFE SET search_path = pg_catalog AS $$
DECLARE
  setting text := nullif(current_setting('app.workspace_id', true), '');
BEGIN
  IF setting IS NULL THEN
    RAISE EXCEPTION 'workspace-missing: no workspace is set for this transaction' USING ERRCODE = '42501';
  END IF;
  RETURN setting::uuid;
END $$;

CREATE FUNCTION app.person() RETURNS uuid LANGUAGE sql STABLE PARALLEL SAFE SET search_path = pg_catalog AS
$$ SELECT nullif(current_setting('app.person_id', true), '')::uuid $$;

-- ── The audit trail ──────────────────────────────────────────────────────────────────────────────
CREATE FUNCTION app.write_audit_entry() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER
SET search_path = pg_catalog, public AS $$
BEGIN
  INSERT INTO public.audit_entry (workspace_id, table_name, change, before, after, person_id, api_token_id)
  VALUES (
    CASE WHEN TG_OP = 'DELETE' THEN OLD.workspace_id ELSE NEW.workspace_id END,
    TG_TABLE_NAME,
    lower(TG_OP),
    CASE WHEN TG_OP = 'INSERT' THEN NULL ELSE to_jsonb(OLD) END,
    CASE WHEN TG_OP = 'DELETE' THEN NULL ELSE to_jsonb(NEW) END,
    app.person(),
    nullif(current_setting('app.api_token_id', true), '')::uuid
  );
  RETURN NULL;
END $$;

-- ── One call closes a workspace table: forced row security, one policy, the audit trigger ─────────
CREATE PROCEDURE app.close_table(closed regclass, audited boolean DEFAULT true) LANGUAGE plpgsql
SET search_path = pg_catalog AS $$
BEGIN
  EXECUTE format('ALTER TABLE %s ENABLE ROW LEVEL SECURITY', closed);
  EXECUTE format('ALTER TABLE %s FORCE ROW LEVEL SECURITY', closed);
  EXECUTE format(
    'CREATE POLICY own_workspace ON %s TO oothecary_app, oothecary_owner
       USING (workspace_id = (SELECT app.workspace())) WITH CHECK (workspace_id = (SELECT app.workspace()))', closed);
  IF audited THEN
    EXECUTE format(
      'CREATE TRIGGER audit AFTER INSERT OR UPDATE OR DELETE ON %s
         FOR EACH ROW EXECUTE FUNCTION app.write_audit_entry()', closed);
  END IF;
END $$;

CALL app.close_table('workspace');
CALL app.close_table('workspace_slug');
CALL app.close_table('membership');
CALL app.close_table('invitation');
CALL app.close_table('api_token');
CALL app.close_table('counter', false);
CALL app.close_table('operation', false);
CALL app.close_table('audit_entry', false);
CALL app.close_table('mail_message');
CALL app.close_table('species');
CALL app.close_table('care_profile');
CALL app.close_table('zone');
CALL app.close_table('zone_set_point');
CALL app.close_table('container_kind');
CALL app.close_table('container_kind_order');
CALL app.close_table('container');
CALL app.close_table('egg_case');
CALL app.close_table('egg_case_stay');
CALL app.close_table('hatch');
CALL app.close_table('clutch');
CALL app.close_table('head_count', false);
CALL app.close_table('head_count_entry');
CALL app.close_table('clutch_housing');
CALL app.close_table('separation');
CALL app.close_table('individual');
CALL app.close_table('moult');
CALL app.close_table('housing');
CALL app.close_table('feeding');
CALL app.close_table('sale');
CALL app.close_table('sale_line');
CALL app.close_table('sale_reversal');
CALL app.close_table('care_sheet');
CALL app.close_table('public_link');

-- ── What each role may do ────────────────────────────────────────────────────────────────────────
-- The service: no DELETE anywhere (records are archived or reversed), ledgers only grow.
GRANT SELECT, INSERT, UPDATE ON
  workspace, membership, invitation, api_token, counter, operation, mail_message, species, zone, zone_set_point,
  container_kind, container_kind_order, container, egg_case, egg_case_stay, clutch, clutch_housing, separation,
  moult, housing, public_link
  TO oothecary_app;
GRANT SELECT, INSERT ON
  workspace_slug, care_profile, hatch, head_count_entry, feeding, sale, sale_line, sale_reversal, care_sheet
  TO oothecary_app;
GRANT SELECT ON head_count, audit_entry TO oothecary_app;
GRANT SELECT, INSERT ON individual TO oothecary_app;
GRANT UPDATE (species_id, origin, sex, sex_certainty, baseline_on, baseline_moults, baseline_last_moult_on,
  adult_since_on, mated, supplier, notes, version) ON individual TO oothecary_app;

-- Sign-in: people and their devices are its own; of the workspaces it reads just what a look-up needs.
GRANT SELECT, INSERT, UPDATE, DELETE ON person, login_session, throttle TO oothecary_auth;
GRANT SELECT ON workspace, workspace_slug, membership, invitation, api_token, public_link TO oothecary_auth;
CREATE POLICY look_up ON workspace FOR SELECT TO oothecary_auth USING (true);
CREATE POLICY look_up ON workspace_slug FOR SELECT TO oothecary_auth USING (true);
CREATE POLICY look_up ON membership FOR SELECT TO oothecary_auth USING (true);
CREATE POLICY look_up ON invitation FOR SELECT TO oothecary_auth USING (true);
CREATE POLICY look_up ON api_token FOR SELECT TO oothecary_auth USING (true);
CREATE POLICY look_up ON public_link FOR SELECT TO oothecary_auth USING (true);

GRANT SELECT ON ALL TABLES IN SCHEMA public TO oothecary_backup;
ALTER DEFAULT PRIVILEGES IN SCHEMA public GRANT SELECT ON TABLES TO oothecary_backup;

-- The service says of itself whether its migrations are current, and refuses to start behind them. The table is the
-- migration runner's; it is not there where these files are only compared.
DO $$ BEGIN
  IF to_regclass('public._prisma_migrations') IS NOT NULL THEN
    GRANT SELECT (migration_name, finished_at, rolled_back_at) ON public._prisma_migrations TO oothecary_auth;
  END IF;
END $$;

GRANT EXECUTE ON FUNCTION app.workspace(), app.person() TO oothecary_app, oothecary_owner, oothecary_jobs;

-- ── The head count ───────────────────────────────────────────────────────────────────────────────
ALTER TABLE head_count
  ADD CONSTRAINT head_count_sums CHECK
    (hatched = together + single + sold + given_away + dead + escaped + unaccounted),
  ADD CONSTRAINT head_count_hatched_not_negative CHECK (hatched >= 0),
  ADD CONSTRAINT head_count_together_not_negative CHECK (together >= 0),
  ADD CONSTRAINT head_count_single_not_negative CHECK (single >= 0),
  ADD CONSTRAINT head_count_sold_not_negative CHECK (sold >= 0),
  ADD CONSTRAINT head_count_given_away_not_negative CHECK (given_away >= 0),
  ADD CONSTRAINT head_count_dead_not_negative CHECK (dead >= 0),
  ADD CONSTRAINT head_count_escaped_not_negative CHECK (escaped >= 0);

ALTER TABLE head_count_entry
  ADD CONSTRAINT head_count_entry_counts_someone CHECK (count > 0),
  ADD CONSTRAINT head_count_entry_moves CHECK ("from" <> "to"),
  ADD CONSTRAINT head_count_entry_names_one CHECK (individual_id IS NULL OR count = 1),
  ADD CONSTRAINT head_count_entry_has_subject CHECK (clutch_id IS NOT NULL OR individual_id IS NOT NULL);

CREATE FUNCTION app.open_head_count() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER
SET search_path = pg_catalog, public AS $$
BEGIN
  INSERT INTO public.head_count (workspace_id, clutch_id) VALUES (NEW.workspace_id, NEW.id);
  RETURN NULL;
END $$;
CREATE TRIGGER open_head_count AFTER INSERT ON clutch FOR EACH ROW EXECUTE FUNCTION app.open_head_count();

-- An animal's record begins outside the ledger and is moved by its first entry.
CREATE FUNCTION app.begin_individual() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog, public AS $$
BEGIN
  NEW.whereabouts := CASE WHEN NEW.clutch_id IS NULL THEN 'uncounted' ELSE 'together' END::public.head_count_state;
  RETURN NEW;
END $$;
CREATE TRIGGER begin_individual BEFORE INSERT ON individual FOR EACH ROW EXECUTE FUNCTION app.begin_individual();

CREATE FUNCTION app.move_in_ledger() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER
SET search_path = pg_catalog, public AS $$
DECLARE
  undone public.head_count_entry;
BEGIN
  IF NEW.reverses IS NOT NULL THEN
    SELECT * INTO undone FROM public.head_count_entry WHERE workspace_id = NEW.workspace_id AND id = NEW.reverses;
    IF undone."from" <> NEW."to" OR undone."to" <> NEW."from" OR undone.count <> NEW.count
       OR undone.clutch_id IS DISTINCT FROM NEW.clutch_id
       OR undone.individual_id IS DISTINCT FROM NEW.individual_id
       OR undone.reverses IS NOT NULL THEN
      RAISE EXCEPTION 'reversal-differs: a reversal mirrors the entry it reverses';
    END IF;
  END IF;
  IF NEW.individual_id IS NOT NULL THEN
    UPDATE public.individual SET whereabouts = NEW."to"
      WHERE workspace_id = NEW.workspace_id AND id = NEW.individual_id AND whereabouts = NEW."from"
        AND clutch_id IS NOT DISTINCT FROM NEW.clutch_id;
    IF NOT FOUND THEN
      RAISE EXCEPTION 'individual-elsewhere: the animal is no longer %', NEW."from";
    END IF;
  END IF;
  IF NEW.clutch_id IS NOT NULL THEN
    UPDATE public.head_count SET
      hatched = hatched + CASE WHEN NEW."from" = 'uncounted' THEN NEW.count WHEN NEW."to" = 'uncounted' THEN -NEW.count ELSE 0 END,
      together = together + app.change_of('together', NEW),
      single = single + app.change_of('single', NEW),
      sold = sold + app.change_of('sold', NEW),
      given_away = given_away + app.change_of('given_away', NEW),
      dead = dead + app.change_of('dead', NEW),
      escaped = escaped + app.change_of('escaped', NEW),
      unaccounted = unaccounted + app.change_of('unaccounted', NEW)
      WHERE workspace_id = NEW.workspace_id AND clutch_id = NEW.clutch_id;
    IF NOT FOUND THEN
      RAISE EXCEPTION 'clutch-unknown: there is no such clutch';
    END IF;
  END IF;
  RETURN NULL;
END $$;

CREATE FUNCTION app.change_of(state public.head_count_state, entry public.head_count_entry) RETURNS integer
LANGUAGE sql IMMUTABLE SET search_path = pg_catalog AS
$$ SELECT CASE state WHEN entry."to" THEN entry.count WHEN entry."from" THEN -entry.count ELSE 0 END $$;
GRANT EXECUTE ON FUNCTION app.change_of(public.head_count_state, public.head_count_entry) TO oothecary_owner;

CREATE TRIGGER move_in_ledger AFTER INSERT ON head_count_entry FOR EACH ROW EXECUTE FUNCTION app.move_in_ledger();

-- ── Housed once ──────────────────────────────────────────────────────────────────────────────────
ALTER TABLE housing
  ADD CONSTRAINT housing_ends_after_start CHECK (until_on IS NULL OR until_on >= from_on),
  ADD CONSTRAINT housing_one_place_per_animal EXCLUDE USING gist
    (workspace_id WITH =, individual_id WITH =, daterange(from_on, until_on) WITH &&),
  ADD CONSTRAINT housing_one_animal_per_single_container EXCLUDE USING gist
    (workspace_id WITH =, container_id WITH =, daterange(from_on, until_on) WITH &&) WHERE (single);
ALTER TABLE clutch_housing
  ADD CONSTRAINT clutch_housing_ends_after_start CHECK (until_on IS NULL OR until_on >= from_on),
  ADD CONSTRAINT clutch_housing_one_place_per_clutch EXCLUDE USING gist
    (workspace_id WITH =, clutch_id WITH =, daterange(from_on, until_on) WITH &&),
  ADD CONSTRAINT clutch_housing_one_clutch_per_container EXCLUDE USING gist
    (workspace_id WITH =, container_id WITH =, daterange(from_on, until_on) WITH &&) WHERE (container_id IS NOT NULL);
ALTER TABLE egg_case_stay
  ADD CONSTRAINT egg_case_stay_ends_after_start CHECK (until_on IS NULL OR until_on >= from_on),
  ADD CONSTRAINT egg_case_stay_one_place EXCLUDE USING gist
    (workspace_id WITH =, egg_case_id WITH =, daterange(from_on, until_on) WITH &&);

-- ── What is plainly false is refused ─────────────────────────────────────────────────────────────
ALTER TABLE egg_case
  ADD CONSTRAINT egg_case_has_a_date CHECK (num_nonnulls(laid_on, laid_from, received_on) >= 1),
  ADD CONSTRAINT egg_case_laid_range CHECK ((laid_from IS NULL) = (laid_until IS NULL) AND laid_from <= laid_until),
  ADD CONSTRAINT egg_case_rest_order CHECK (rest_planned_end_on >= rest_start_on AND rest_ended_on >= rest_start_on),
  ADD CONSTRAINT egg_case_end_complete CHECK ((ended_on IS NULL) = ("end" IS NULL));
ALTER TABLE hatch ADD CONSTRAINT hatch_range CHECK (likely > 0 AND coalesce(low, likely) <= likely AND coalesce(high, likely) >= likely);
ALTER TABLE clutch ADD CONSTRAINT clutch_hatched_range CHECK (hatched_low >= 0 AND hatched_high >= hatched_low);
ALTER TABLE container_kind
  ADD CONSTRAINT container_kind_measures CHECK (volume_ml > 0 AND inner_height_mm > 0 AND inner_width_mm > 0 AND stock >= 0);
ALTER TABLE container_kind_order ADD CONSTRAINT container_kind_order_count CHECK (count > 0);
ALTER TABLE zone_set_point
  ADD CONSTRAINT zone_set_point_range CHECK (day_c BETWEEN -30 AND 60 AND (night_c IS NULL OR night_c BETWEEN -30 AND 60));
ALTER TABLE separation ADD CONSTRAINT separation_planned CHECK (planned > 0);
ALTER TABLE individual
  ADD CONSTRAINT individual_baseline CHECK
    (baseline_moults >= 0 AND (baseline_last_moult_on IS NULL OR baseline_last_moult_on <= baseline_on)),
  ADD CONSTRAINT individual_sex_certainty CHECK ((sex = 'unsexed') = (sex_certainty = 'none'));
ALTER TABLE moult
  ADD CONSTRAINT moult_number_positive CHECK (number > 0),
  ADD CONSTRAINT moult_seen_between CHECK (seen_from IS NULL OR seen_from <= "on");
ALTER TABLE sale_line ADD CONSTRAINT sale_line_price CHECK (price_minor >= 0);
ALTER TABLE care_profile ADD CONSTRAINT care_profile_number CHECK (number > 0);

-- ── Jobs: asked for inside the transaction, gone with its rollback ───────────────────────────────
CREATE FUNCTION app.enqueue(task text, payload jsonb) RETURNS void LANGUAGE plpgsql SECURITY DEFINER
SET search_path = pg_catalog AS $$
BEGIN
  PERFORM graphile_worker.add_job(task, (payload || jsonb_build_object('workspaceId', app.workspace()))::json);
END $$;
GRANT CREATE ON SCHEMA app TO oothecary_jobs;
ALTER FUNCTION app.enqueue(text, jsonb) OWNER TO oothecary_jobs;
REVOKE CREATE ON SCHEMA app FROM oothecary_jobs;
GRANT EXECUTE ON FUNCTION app.enqueue(text, jsonb) TO oothecary_app;

-- Attempts may be forgotten in a crash: a count that costs no write-ahead log can be taken on every call.
ALTER TABLE throttle SET UNLOGGED;
