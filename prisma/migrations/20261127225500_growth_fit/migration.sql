-- AlterTable
ALTER TABLE "moult" ADD COLUMN     "confirmed_at" TIMESTAMPTZ(3);

-- CreateTable
CREATE TABLE "growth_fit" (
    "workspace_id" UUID NOT NULL,
    "species_id" UUID NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 0,
    "evidence_hash" TEXT NOT NULL DEFAULT '',
    "content" JSONB,
    "doubts" JSONB NOT NULL DEFAULT '[]',
    "fitted_at" TIMESTAMPTZ(3),
    "failure" TEXT,
    "failed_at" TIMESTAMPTZ(3),

    CONSTRAINT "growth_fit_pkey" PRIMARY KEY ("workspace_id","species_id")
);

-- CreateTable
CREATE TABLE "clutch_growth" (
    "workspace_id" UUID NOT NULL,
    "clutch_id" UUID NOT NULL,
    "fit_version" INTEGER NOT NULL,
    "effect" JSONB NOT NULL,

    CONSTRAINT "clutch_growth_pkey" PRIMARY KEY ("workspace_id","clutch_id")
);

-- CreateTable
CREATE TABLE "animal_growth" (
    "workspace_id" UUID NOT NULL,
    "individual_id" UUID NOT NULL,
    "fit_version" INTEGER NOT NULL,
    "effect" JSONB NOT NULL,

    CONSTRAINT "animal_growth_pkey" PRIMARY KEY ("workspace_id","individual_id")
);

-- AddForeignKey
ALTER TABLE "growth_fit" ADD CONSTRAINT "growth_fit_species_fkey" FOREIGN KEY ("workspace_id", "species_id") REFERENCES "species"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "clutch_growth" ADD CONSTRAINT "clutch_growth_clutch_fkey" FOREIGN KEY ("workspace_id", "clutch_id") REFERENCES "clutch"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "animal_growth" ADD CONSTRAINT "animal_growth_individual_fkey" FOREIGN KEY ("workspace_id", "individual_id") REFERENCES "individual"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- What follows from other rows needs no trail of its own.
CALL app.close_table('growth_fit', false);
CALL app.close_table('clutch_growth', false);
CALL app.close_table('animal_growth', false);

GRANT SELECT, INSERT, UPDATE ON growth_fit, clutch_growth, animal_growth TO oothecary_app;

ALTER TABLE growth_fit
  ADD CONSTRAINT growth_fit_complete CHECK ((version = 0) = (content IS NULL) AND (content IS NULL) = (fitted_at IS NULL)),
  ADD CONSTRAINT growth_fit_failure CHECK ((failure IS NULL) = (failed_at IS NULL));

-- ── A change of evidence asks for a new fit ──────────────────────────────────────────────────────
-- One job for a species, whatever changes while it waits; its row stays locked until the change is committed, so that
-- it never runs before. Something that is quickly asked for again does not put off what was asked for earlier.
CREATE FUNCTION app.enqueue_refit(species uuid, wait interval) RETURNS void LANGUAGE plpgsql SECURITY DEFINER
SET search_path = pg_catalog AS $$
DECLARE
  job text := 'refit:' || app.workspace() || ':' || species;
  asked text := coalesce(current_setting('app.refits', true), '');
  pending timestamptz;
BEGIN
  IF position(job || ' ' || wait IN asked) > 0 THEN RETURN; END IF;
  SELECT run_at INTO pending FROM graphile_worker.jobs WHERE key = job AND locked_at IS NULL AND attempts = 0;
  PERFORM graphile_worker.add_job('refit-growth',
    jsonb_build_object('workspaceId', app.workspace(), 'speciesId', species)::json,
    job_key := job, job_key_mode := 'replace', run_at := least(pending, now() + wait));
  PERFORM set_config('app.refits', asked || job || ' ' || wait || ';', true);
END $$;
GRANT CREATE ON SCHEMA app TO oothecary_jobs;
ALTER FUNCTION app.enqueue_refit(uuid, interval) OWNER TO oothecary_jobs;
REVOKE CREATE ON SCHEMA app FROM oothecary_jobs;
GRANT EXECUTE ON FUNCTION app.enqueue_refit(uuid, interval) TO oothecary_app, oothecary_owner;

CREATE FUNCTION app.note_evidence() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog, public AS $$
DECLARE
  species uuid;
  found uuid[];
  -- A thermometer speaks every few minutes and changes little.
  wait interval := CASE TG_ARGV[0] WHEN 'zone' THEN interval '2 minutes' ELSE interval '2 seconds' END;
BEGIN
  -- Past the service, as when a backup is laid in, there is no workspace to ask for.
  IF coalesce(current_setting('app.workspace_id', true), '') = '' THEN RETURN NULL; END IF;
  CASE TG_ARGV[0]
    WHEN 'species' THEN found := ARRAY(SELECT DISTINCT x.species_id FROM changed x ORDER BY 1);
    WHEN 'animal' THEN found := ARRAY(SELECT DISTINCT i.species_id FROM changed x
      JOIN individual i ON i.workspace_id = x.workspace_id AND i.id = x.individual_id ORDER BY 1);
    WHEN 'clutch' THEN found := ARRAY(SELECT DISTINCT c.species_id FROM changed x
      JOIN clutch c ON c.workspace_id = x.workspace_id AND c.id = x.clutch_id ORDER BY 1);
    WHEN 'egg-case' THEN found := ARRAY(SELECT DISTINCT e.species_id FROM changed x
      JOIN egg_case e ON e.workspace_id = x.workspace_id AND e.id = x.egg_case_id ORDER BY 1);
    WHEN 'zone' THEN found := ARRAY(SELECT f.species_id FROM growth_fit f
      WHERE EXISTS (SELECT FROM changed) AND f.workspace_id = (SELECT app.workspace()) ORDER BY 1);
  END CASE;
  FOREACH species IN ARRAY found LOOP
    PERFORM app.enqueue_refit(species, wait);
  END LOOP;
  RETURN NULL;
END $$;
GRANT EXECUTE ON FUNCTION app.note_evidence() TO oothecary_app, oothecary_owner;

DO $$
DECLARE
  watched record;
BEGIN
  FOR watched IN SELECT * FROM (VALUES
    ('care_profile', 'species'), ('clutch', 'species'), ('egg_case', 'species'), ('individual', 'species'),
    ('moult', 'animal'), ('look', 'animal'), ('feeding', 'animal'), ('housing', 'animal'),
    ('clutch_housing', 'clutch'), ('clutch_observation', 'clutch'), ('head_count_entry', 'clutch'), ('hatch', 'clutch'),
    ('egg_case_stay', 'egg-case'), ('zone_set_point', 'zone'), ('zone_day', 'zone')) AS w(closed, kind)
  LOOP
    EXECUTE format('CREATE TRIGGER evidence_added AFTER INSERT ON %I REFERENCING NEW TABLE AS changed
      FOR EACH STATEMENT EXECUTE FUNCTION app.note_evidence(%L)', watched.closed, watched.kind);
    EXECUTE format('CREATE TRIGGER evidence_changed AFTER UPDATE ON %I REFERENCING NEW TABLE AS changed
      FOR EACH STATEMENT EXECUTE FUNCTION app.note_evidence(%L)', watched.closed, watched.kind);
  END LOOP;
END $$;
