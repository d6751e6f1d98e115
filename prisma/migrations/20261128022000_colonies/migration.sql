-- Colonies: clutches of one species in one container, where the care profile allows it.

SET lock_timeout = '5s';

-- New links are checked against the rows there are, which the owner of the tables may not see either.
ALTER TABLE clutch_housing NO FORCE ROW LEVEL SECURITY;
ALTER TABLE egg_case NO FORCE ROW LEVEL SECURITY;

-- AlterTable
ALTER TABLE "clutch_housing" ADD COLUMN     "colony_id" UUID,
ADD COLUMN     "least_moults" INTEGER,
ADD COLUMN     "most_moults" INTEGER,
ADD COLUMN     "too_many" INTEGER;

-- AlterTable
ALTER TABLE "egg_case" ADD COLUMN     "colony_id" UUID;

-- CreateTable
CREATE TABLE "colony" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "name" TEXT NOT NULL,
    "species_id" UUID NOT NULL,
    "container_id" UUID NOT NULL,
    "zone_id" UUID NOT NULL,
    "opened_on" DATE NOT NULL,
    "closed_on" DATE,
    "notes" TEXT NOT NULL DEFAULT '',
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "colony_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateTable
CREATE TABLE "colony_count" (
    "workspace_id" UUID NOT NULL,
    "id" UUID NOT NULL DEFAULT uuidv7(),
    "colony_id" UUID NOT NULL,
    "on" DATE NOT NULL,
    "sex" "sex" NOT NULL,
    "moults" INTEGER NOT NULL,
    "adult" BOOLEAN NOT NULL DEFAULT false,
    "animals" INTEGER NOT NULL,
    "counted_by" UUID,
    "archived_at" TIMESTAMPTZ(3),
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "colony_count_pkey" PRIMARY KEY ("workspace_id","id")
);

-- CreateIndex
CREATE INDEX "colony_container_idx" ON "colony"("workspace_id", "container_id");

-- CreateIndex
CREATE UNIQUE INDEX "colony_name_key" ON "colony"("workspace_id", "name") WHERE (closed_on IS NULL);

-- CreateIndex
CREATE UNIQUE INDEX "colony_count_line_once" ON "colony_count"("workspace_id", "colony_id", "on", "sex", "moults", "adult") WHERE (archived_at IS NULL);

-- CreateIndex
CREATE INDEX "clutch_housing_colony_idx" ON "clutch_housing"("workspace_id", "colony_id");

-- AddForeignKey
ALTER TABLE "clutch_housing" ADD CONSTRAINT "clutch_housing_colony_fkey" FOREIGN KEY ("workspace_id", "colony_id") REFERENCES "colony"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "colony" ADD CONSTRAINT "colony_species_fkey" FOREIGN KEY ("workspace_id", "species_id") REFERENCES "species"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "colony" ADD CONSTRAINT "colony_container_fkey" FOREIGN KEY ("workspace_id", "container_id") REFERENCES "container"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "colony" ADD CONSTRAINT "colony_zone_fkey" FOREIGN KEY ("workspace_id", "zone_id") REFERENCES "zone"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "colony_count" ADD CONSTRAINT "colony_count_colony_fkey" FOREIGN KEY ("workspace_id", "colony_id") REFERENCES "colony"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "colony_count" ADD CONSTRAINT "colony_count_counter_fkey" FOREIGN KEY ("workspace_id", "counted_by") REFERENCES "membership"("workspace_id", "person_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "egg_case" ADD CONSTRAINT "egg_case_colony_fkey" FOREIGN KEY ("workspace_id", "colony_id") REFERENCES "colony"("workspace_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

ALTER TABLE clutch_housing FORCE ROW LEVEL SECURITY;
ALTER TABLE egg_case FORCE ROW LEVEL SECURITY;

CALL app.close_table('colony');
CALL app.close_table('colony_count');
GRANT SELECT, INSERT, UPDATE ON colony, colony_count TO oothecary_app;

ALTER TABLE colony ADD CONSTRAINT colony_closes_after_opening CHECK (closed_on IS NULL OR closed_on >= opened_on);
ALTER TABLE colony_count ADD CONSTRAINT colony_count_range CHECK (animals >= 0 AND moults >= 0);
ALTER TABLE clutch_housing
  ADD CONSTRAINT clutch_housing_colony_stages CHECK (
    (colony_id IS NULL OR num_nonnulls(container_id, least_moults, most_moults) = 3)
    AND least_moults BETWEEN 0 AND most_moults AND too_many > 0);

-- One clutch in a container, unless all who are in it belong to one colony: two stays are in each other's way when they
-- are of different clutches and not of one colony.
ALTER TABLE clutch_housing DROP CONSTRAINT clutch_housing_one_clutch_per_container;
ALTER TABLE clutch_housing
  ADD CONSTRAINT clutch_housing_one_clutch_per_container EXCLUDE USING gist
    (workspace_id WITH =, container_id WITH =, (coalesce(colony_id, id)) WITH <>, daterange(from_on, until_on) WITH &&)
    WHERE (container_id IS NOT NULL);

-- ── Who may live together ────────────────────────────────────────────────────────────────────────
-- Checked when a clutch is put in, under the lock of the container that app.keep_apart takes: one species, whose care
-- profile allows it, and nobody more than one instar from another by what was last counted and put in since. What is
-- advice (how much room there is) is not here: it is recorded with the stay.
CREATE FUNCTION app.join_colony(joining clutch_housing) RETURNS void LANGUAGE plpgsql SET search_path = pg_catalog, public AS $$
DECLARE
  joined public.colony;
  counted_on date;
  fewest integer;
  highest integer;
BEGIN
  SELECT * INTO joined FROM public.colony c WHERE c.workspace_id = joining.workspace_id AND c.id = joining.colony_id;
  -- The link itself refuses a colony that is not here.
  IF joined.id IS NULL THEN
    RETURN;
  END IF;
  IF joined.container_id <> joining.container_id THEN
    RAISE EXCEPTION 'colony-elsewhere: this colony lives in another container';
  END IF;
  IF joined.closed_on IS NOT NULL THEN
    RAISE EXCEPTION 'colony-closed: this colony is closed';
  END IF;
  -- Who is in it already and only goes along to another zone is not put in; who was elsewhere in between is.
  IF EXISTS (SELECT FROM public.clutch_housing h WHERE h.workspace_id = joining.workspace_id
      AND h.clutch_id = joining.clutch_id AND h.colony_id = joining.colony_id AND h.until_on = joining.from_on)
     AND NOT EXISTS (SELECT FROM public.clutch_housing h WHERE h.workspace_id = joining.workspace_id
      AND h.clutch_id = joining.clutch_id AND h.from_on = joining.from_on AND h.id <> joining.id) THEN
    RETURN;
  END IF;
  IF joining.from_on < joined.opened_on THEN
    RAISE EXCEPTION 'colony-before-opening: this colony began later';
  END IF;
  IF NOT EXISTS (SELECT FROM public.clutch c WHERE c.workspace_id = joining.workspace_id AND c.id = joining.clutch_id
      AND c.species_id = joined.species_id) THEN
    RAISE EXCEPTION 'colony-other-species: a colony is of one species';
  END IF;
  IF (SELECT p.content #>> '{separation,allowsColony,value}' FROM public.care_profile p
      WHERE p.workspace_id = joining.workspace_id AND p.species_id = joined.species_id
      ORDER BY p.number DESC LIMIT 1) IS DISTINCT FROM 'true' THEN
    RAISE EXCEPTION 'colony-not-allowed: the care profile does not allow it';
  END IF;
  SELECT max(n."on") INTO counted_on FROM public.colony_count n WHERE n.workspace_id = joining.workspace_id
    AND n.colony_id = joining.colony_id AND n.archived_at IS NULL AND n."on" <= joining.from_on;
  SELECT min(inside.fewest), max(inside.highest) INTO fewest, highest FROM (
    SELECT n.moults AS fewest, n.moults AS highest FROM public.colony_count n WHERE n.workspace_id = joining.workspace_id
      AND n.colony_id = joining.colony_id AND n.archived_at IS NULL AND n."on" = counted_on AND n.animals > 0
    UNION ALL
    SELECT h.least_moults, h.most_moults FROM public.clutch_housing h WHERE h.workspace_id = joining.workspace_id
      AND h.colony_id = joining.colony_id AND h.id <> joining.id
      AND daterange(h.from_on, h.until_on) && daterange(joining.from_on, joining.until_on)
      AND (counted_on IS NULL OR h.from_on > counted_on)
      AND EXISTS (SELECT FROM public.head_count n WHERE n.workspace_id = h.workspace_id AND n.clutch_id = h.clutch_id
        AND n.together > 0)) inside;
  IF greatest(highest, joining.most_moults) - least(fewest, joining.least_moults) > 1 THEN
    RAISE EXCEPTION 'colony-stages-apart: inside are % to % moults', fewest, highest;
  END IF;
END $$;

CREATE OR REPLACE FUNCTION app.keep_apart() RETURNS trigger LANGUAGE plpgsql SET search_path = pg_catalog, public AS $$
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
    IF NEW.colony_id IS NOT NULL THEN
      PERFORM app.join_colony(NEW);
    ELSIF app.is_of_colony(NEW.workspace_id, NEW.container_id, days) THEN
      RAISE EXCEPTION 'container-of-a-colony: a colony lives in that container';
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
    IF app.is_of_colony(NEW.workspace_id, NEW.container_id, days) THEN
      RAISE EXCEPTION 'container-of-a-colony: a colony lives in that container';
    END IF;
  END IF;
  RETURN NEW;
END $$;

-- Empty for now, its container is still the colony's.
CREATE FUNCTION app.is_of_colony(workspace uuid, container uuid, days daterange) RETURNS boolean
LANGUAGE sql STABLE SET search_path = pg_catalog, public AS
$$ SELECT EXISTS (SELECT FROM public.colony c WHERE c.workspace_id = workspace AND c.container_id = container
     AND daterange(c.opened_on, c.closed_on) && days) $$;
GRANT EXECUTE ON FUNCTION app.join_colony(clutch_housing), app.is_of_colony(uuid, uuid, daterange)
  TO oothecary_app, oothecary_owner;
