-- What else is seen of siblings together: how many hang for a moult, wing buds, refused food. Who counts those that
-- hang at the end of a run at the bench says nothing of the others.
ALTER TABLE "clutch_observation" ADD COLUMN     "hanging" INTEGER,
ADD COLUMN     "refuses_food" BOOLEAN NOT NULL DEFAULT false,
ADD COLUMN     "wing_buds" BOOLEAN NOT NULL DEFAULT false,
ALTER COLUMN "moulted" DROP NOT NULL;

ALTER TABLE clutch_observation ADD CONSTRAINT clutch_observation_hanging CHECK (hanging BETWEEN 0 AND 100000);
ALTER TABLE clutch_observation ADD CONSTRAINT clutch_observation_says_something
  CHECK (moulted IS NOT NULL OR hanging IS NOT NULL);
