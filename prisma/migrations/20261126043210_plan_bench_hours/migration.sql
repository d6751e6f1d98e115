-- CreateTable
CREATE TABLE "bench_hours" (
    "workspace_id" UUID NOT NULL,
    "minutes_by_weekday" INTEGER[],
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "bench_hours_pkey" PRIMARY KEY ("workspace_id")
);

-- CreateTable
CREATE TABLE "bench_day" (
    "workspace_id" UUID NOT NULL,
    "on" DATE NOT NULL,
    "minutes" INTEGER,
    "note" TEXT NOT NULL DEFAULT '',
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "bench_day_pkey" PRIMARY KEY ("workspace_id","on")
);

-- AlterTable
ALTER TABLE "clutch_housing" ADD COLUMN     "override_reason" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "past_due_on" DATE;

-- AddForeignKey
ALTER TABLE "bench_hours" ADD CONSTRAINT "bench_hours_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "bench_day" ADD CONSTRAINT "bench_day_workspace_fkey" FOREIGN KEY ("workspace_id") REFERENCES "workspace"("workspace_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

CALL app.close_table('bench_hours');
CALL app.close_table('bench_day');
GRANT SELECT, INSERT, UPDATE ON bench_hours, bench_day TO oothecary_app;

ALTER TABLE bench_hours
  ADD CONSTRAINT bench_hours_week CHECK (
    cardinality(minutes_by_weekday) = 7 AND array_position(minutes_by_weekday, NULL) IS NULL
    AND 0 <= ALL (minutes_by_weekday) AND 1440 >= ALL (minutes_by_weekday));
ALTER TABLE bench_day ADD CONSTRAINT bench_day_minutes CHECK (minutes BETWEEN 0 AND 1440);

-- ── Never together ───────────────────────────────────────────────────────────────────────────────
-- EXCLUDE keeps two animals out of one single container and two clutches out of one box, but it cannot see across
-- two tables. So whoever is put into a container first takes that container's row, one after the other, and then
-- looks at who else is in it. NO KEY UPDATE: the foreign keys' own locks do not stand in its way.
CREATE FUNCTION app.keep_apart() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog, public AS $$
DECLARE
  is_single boolean;
  days daterange;
BEGIN
  -- Days that run backwards are refused by a rule of their own; a stay of no day is in nobody's way.
  IF NEW.container_id IS NULL OR NEW.until_on <= NEW.from_on THEN
    RETURN NEW;
  END IF;
  days := daterange(NEW.from_on, NEW.until_on);
  -- Whoever leaves takes nobody's place.
  IF TG_OP = 'UPDATE' THEN
    IF OLD.container_id = NEW.container_id AND OLD.from_on <= NEW.from_on
       AND (OLD.until_on IS NULL OR OLD.until_on >= NEW.until_on) THEN
      RETURN NEW;
    END IF;
  END IF;
  SELECT c.single INTO is_single FROM public.container c
    WHERE c.workspace_id = NEW.workspace_id AND c.id = NEW.container_id FOR NO KEY UPDATE;
  IF TG_TABLE_NAME = 'clutch_housing' THEN
    IF is_single THEN
      RAISE EXCEPTION 'clutch-in-single: a container for one animal cannot hold siblings';
    END IF;
    IF EXISTS (SELECT FROM public.housing h
        WHERE h.workspace_id = NEW.workspace_id AND h.container_id = NEW.container_id
          AND daterange(h.from_on, h.until_on) && days) THEN
      RAISE EXCEPTION 'container-of-an-animal: a single animal is in that container';
    END IF;
  ELSE
    IF EXISTS (SELECT FROM public.clutch_housing h
        WHERE h.workspace_id = NEW.workspace_id AND h.container_id = NEW.container_id
          AND daterange(h.from_on, h.until_on) && days) THEN
      RAISE EXCEPTION 'container-of-a-clutch: a clutch is in that container';
    END IF;
    IF EXISTS (SELECT FROM public.housing h
        WHERE h.workspace_id = NEW.workspace_id AND h.container_id = NEW.container_id AND h.id <> NEW.id
          AND h.individual_id <> NEW.individual_id AND NOT h.single
          AND daterange(h.from_on, h.until_on) && days) THEN
      RAISE EXCEPTION 'container-of-another: another animal is in that container';
    END IF;
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER keep_apart BEFORE INSERT OR UPDATE OF container_id, individual_id, from_on, until_on ON housing
  FOR EACH ROW EXECUTE FUNCTION app.keep_apart();
CREATE TRIGGER keep_apart BEFORE INSERT OR UPDATE OF container_id, clutch_id, from_on, until_on ON clutch_housing
  FOR EACH ROW EXECUTE FUNCTION app.keep_apart();

CREATE INDEX "clutch_housing_container_idx" ON "clutch_housing"("workspace_id", "container_id");
CREATE INDEX "housing_container_idx" ON "housing"("workspace_id", "container_id");
