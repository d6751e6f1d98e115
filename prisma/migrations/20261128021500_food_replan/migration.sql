-- ── What happens asks for a new plan of live food ────────────────────────────────────────────────
-- One job for a workspace. What is due within the wait is left as it is, so that many who write at once do not wait
-- for each other; what is about to begin is put off, since it would read the records before this change is committed.
CREATE FUNCTION app.enqueue_replan(wait interval) RETURNS void LANGUAGE plpgsql SECURITY DEFINER
SET search_path = pg_catalog AS $$
DECLARE
  job text := 'replan:' || app.workspace();
  pending timestamptz;
BEGIN
  SELECT run_at INTO pending FROM graphile_worker.jobs WHERE key = job AND locked_at IS NULL AND attempts = 0;
  IF pending BETWEEN now() + interval '5 seconds' AND now() + wait THEN RETURN; END IF;
  PERFORM graphile_worker.add_job('replan-food', jsonb_build_object('workspaceId', app.workspace())::json,
    job_key := job, job_key_mode := 'replace', run_at := now() + wait);
END $$;
GRANT CREATE ON SCHEMA app TO oothecary_jobs;
ALTER FUNCTION app.enqueue_replan(interval) OWNER TO oothecary_jobs;
REVOKE CREATE ON SCHEMA app FROM oothecary_jobs;
GRANT EXECUTE ON FUNCTION app.enqueue_replan(interval) TO oothecary_app, oothecary_owner;

-- Only where somebody has asked for a plan before: who does not plan live food is not planned for.
CREATE FUNCTION app.note_food_change() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog, public AS $$
BEGIN
  IF coalesce(current_setting('app.workspace_id', true), '') = '' THEN RETURN NULL; END IF;
  IF NOT EXISTS (SELECT FROM changed) THEN RETURN NULL; END IF;
  IF EXISTS (SELECT FROM food_plan p WHERE p.workspace_id = (SELECT app.workspace()) AND NOT p.is_trial) THEN
    PERFORM app.enqueue_replan(TG_ARGV[0]::interval);
  END IF;
  RETURN NULL;
END $$;
GRANT EXECUTE ON FUNCTION app.note_food_change() TO oothecary_app, oothecary_owner;

DO $$
DECLARE
  watched record;
BEGIN
  FOR watched IN SELECT * FROM (VALUES
    ('culture', '1 minute'), ('harvest', '1 minute'), ('prey_order', '1 minute'), ('prey_count', '1 minute'),
    ('prey_departure', '1 minute'), ('prey_line', '1 minute'), ('prey_line_version', '1 minute'),
    ('other_mouth', '1 minute'), ('food_limits', '1 minute'), ('food_closed_day', '1 minute'),
    ('egg_case', '5 minutes'), ('hatch', '5 minutes'), ('head_count_entry', '5 minutes'),
    ('growth_fit', '5 minutes')) AS w(closed, wait)
  LOOP
    EXECUTE format('CREATE TRIGGER food_added AFTER INSERT ON %I REFERENCING NEW TABLE AS changed
      FOR EACH STATEMENT EXECUTE FUNCTION app.note_food_change(%L)', watched.closed, watched.wait);
    EXECUTE format('CREATE TRIGGER food_changed AFTER UPDATE ON %I REFERENCING NEW TABLE AS changed
      FOR EACH STATEMENT EXECUTE FUNCTION app.note_food_change(%L)', watched.closed, watched.wait);
  END LOOP;
END $$;
