-- Any sort and filter of the watchlist looks at each row of a horizon once. What that reads stands first in a row, in
-- the order in which it is asked for, because the server takes a row apart from the left; what is only shown comes last.
ALTER TABLE "vehicle_scores" RENAME TO "vehicle_scores_before";
ALTER INDEX "vehicle_scores_pkey" RENAME TO "vehicle_scores_before_pkey";
DO $$
DECLARE horizon text;
BEGIN
    FOREACH horizon IN ARRAY ARRAY['30', '90', '180', '365', 'other'] LOOP
        EXECUTE format('ALTER TABLE %I RENAME TO %I', 'vehicle_scores_' || horizon || '_days', 'vehicle_scores_before_' || horizon || '_days');
        EXECUTE format('ALTER INDEX %I RENAME TO %I', 'vehicle_scores_' || horizon || '_days_pkey', 'vehicle_scores_before_' || horizon || '_days_pkey');
    END LOOP;
END $$;
DROP INDEX "vehicle_scores_organisation_id_urgency_idx";

-- CreateTable
CREATE TABLE "vehicle_scores" (
    "organisation_id" UUID NOT NULL,
    "vehicle_id" UUID NOT NULL,
    "horizon_days" INTEGER NOT NULL,
    "urgency" INTEGER NOT NULL,
    "as_of" DATE NOT NULL,
    "words" TEXT NOT NULL,
    "number_key" TEXT NOT NULL,
    "unit" TEXT NOT NULL,
    "status" TEXT NOT NULL,
    "history" TEXT NOT NULL,
    "family" TEXT NOT NULL,
    "site" TEXT,
    "customer" TEXT,
    "p_fail" DOUBLE PRECISION,
    "cost_of_waiting" DOUBLE PRECISION,
    "combined" DOUBLE PRECISION,
    "odometer_km" DOUBLE PRECISION,
    "value" DOUBLE PRECISION,
    "asking_price" DOUBLE PRECISION,
    "odometer_read_on" DATE,
    "last_full_scan_on" DATE,
    "last_looked_at_on" DATE,
    "leading_name" TEXT,
    "leading_position" INTEGER,
    "weak_point_key" TEXT,
    "engine_key" TEXT NOT NULL,
    "site_key" TEXT,
    "customer_key" TEXT,
    "contact_key" TEXT,
    "speaks_key" TEXT,
    "family_name" TEXT NOT NULL,
    "speaks" TEXT,
    "weak_points_covered" INTEGER NOT NULL,
    "library_version" INTEGER NOT NULL,
    "assessed" BOOLEAN NOT NULL,
    "odometer_estimated" BOOLEAN NOT NULL,
    "standing" BOOLEAN NOT NULL,
    "scored_at" TIMESTAMPTZ(3) NOT NULL,
    "records_version" BIGINT NOT NULL DEFAULT 0,
    "p_low" DOUBLE PRECISION,
    "p_high" DOUBLE PRECISION,
    "km_per_day" DOUBLE PRECISION,
    "advice" TEXT NOT NULL,
    "leading_weak_point" TEXT,
    "leading_place" TEXT,

    CONSTRAINT "vehicle_scores_pkey" PRIMARY KEY ("organisation_id","vehicle_id","horizon_days")
) PARTITION BY LIST ("horizon_days");

CREATE TABLE "vehicle_scores_30_days" PARTITION OF "vehicle_scores" FOR VALUES IN (30);
CREATE TABLE "vehicle_scores_90_days" PARTITION OF "vehicle_scores" FOR VALUES IN (90);
CREATE TABLE "vehicle_scores_180_days" PARTITION OF "vehicle_scores" FOR VALUES IN (180);
CREATE TABLE "vehicle_scores_365_days" PARTITION OF "vehicle_scores" FOR VALUES IN (365);
CREATE TABLE "vehicle_scores_other_days" PARTITION OF "vehicle_scores" DEFAULT;

ALTER TABLE "vehicle_scores" ADD CONSTRAINT "vehicle_scores_chances" CHECK (
    "combined" BETWEEN 0 AND 1 AND "p_fail" BETWEEN 0 AND 1 AND "p_low" BETWEEN 0 AND 1 AND "p_high" BETWEEN 0 AND 1);

-- What a row of the watchlist can be found by.
DROP FUNCTION "watchlist_words"("vehicle_scores_before", TEXT);
CREATE FUNCTION "watchlist_words"("score" "vehicle_scores", "plate" TEXT) RETURNS TEXT LANGUAGE SQL STABLE PARALLEL SAFE AS $$
    SELECT lower(concat_ws(' ', score.unit, plate, score.site, score.customer, score.family_name, score.leading_name, score.speaks))
$$;

-- Whoever writes a score says nothing of the vehicle: the row takes it from there, and texts as they are sorted by.
CREATE OR REPLACE FUNCTION "take_vehicle_onto_score"() RETURNS TRIGGER LANGUAGE plpgsql AS $$
DECLARE vehicle "vehicles";
BEGIN
    SELECT * INTO vehicle FROM vehicles WHERE organisation_id = NEW.organisation_id AND id = NEW.vehicle_id;
    NEW.unit = vehicle.unit;
    NEW.number_key = number_key(vehicle.unit);
    NEW.status = vehicle.status;
    NEW.history = vehicle.history;
    NEW.family = vehicle.family;
    NEW.site = vehicle.site;
    NEW.customer = vehicle.customer;
    NEW.value = vehicle.value;
    NEW.asking_price = vehicle.asking_price;
    NEW.urgency = CASE WHEN NEW.assessed THEN array_position(ARRAY['stop', 'book', 'check', 'watch', 'fine'], NEW.advice) ELSE 6 END;
    NEW.weak_point_key = lower(NEW.leading_name);
    NEW.engine_key = lower(NEW.family_name);
    NEW.site_key = lower(coalesce(vehicle.site, vehicle.customer));
    NEW.customer_key = lower(vehicle.customer);
    NEW.contact_key = lower(vehicle.contact);
    NEW.speaks_key = lower(NEW.speaks);
    NEW.words = watchlist_words(NEW, vehicle.plate);
    RETURN NEW;
END $$;
CREATE TRIGGER "take_vehicle" BEFORE INSERT OR UPDATE ON "vehicle_scores" FOR EACH ROW EXECUTE FUNCTION "take_vehicle_onto_score"();

DROP TRIGGER "hand_on" ON "vehicles";
CREATE TRIGGER "hand_on" AFTER UPDATE ON "vehicles" FOR EACH ROW WHEN (
    (OLD.unit, OLD.plate, OLD.status, OLD.history, OLD.family, OLD.site, OLD.customer, OLD.contact, OLD.value, OLD.asking_price)
    IS DISTINCT FROM
    (NEW.unit, NEW.plate, NEW.status, NEW.history, NEW.family, NEW.site, NEW.customer, NEW.contact, NEW.value, NEW.asking_price)
) EXECUTE FUNCTION "hand_vehicle_to_scores"();

-- Scores that are there stay there; of all organisations at once, which their owner may do while nothing is forced.
DO $$
DECLARE name text;
BEGIN
    FOR name IN SELECT relname FROM pg_class WHERE relname LIKE 'vehicle\_scores\_before%' AND relkind IN ('r', 'p') OR relname = 'vehicles' LOOP
        EXECUTE format('ALTER TABLE %I NO FORCE ROW LEVEL SECURITY', name);
    END LOOP;
END $$;
INSERT INTO "vehicle_scores" ("organisation_id", "vehicle_id", "horizon_days", "as_of", "library_version", "scored_at", "records_version",
    "assessed", "family_name", "odometer_km", "odometer_read_on", "odometer_estimated", "km_per_day", "standing", "combined", "advice",
    "last_full_scan_on", "last_looked_at_on", "weak_points_covered", "leading_weak_point", "leading_name", "leading_position",
    "leading_place", "p_fail", "p_low", "p_high", "cost_of_waiting", "speaks")
SELECT "organisation_id", "vehicle_id", "horizon_days", "as_of", "library_version", "scored_at", "records_version",
    "assessed", "family_name", "odometer_km", "odometer_read_on", "odometer_estimated", "km_per_day", "standing", "combined", "advice",
    "last_full_scan_on", "last_looked_at_on", "weak_points_covered", "leading_weak_point", "leading_name", "leading_position",
    "leading_place", "p_fail", "p_low", "p_high", "cost_of_waiting", "speaks"
FROM "vehicle_scores_before";
DROP TABLE "vehicle_scores_before";
ALTER TABLE "vehicles" FORCE ROW LEVEL SECURITY;

-- AddForeignKey
ALTER TABLE "vehicle_scores" ADD CONSTRAINT "vehicle_scores_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- What the whole fleet asks for is counted from an index alone, and the most urgent come from it in their order.
-- CreateIndex
CREATE INDEX "vehicle_scores_at_a_glance" ON "vehicle_scores"("organisation_id", "urgency", "horizon_days", "as_of", "last_full_scan_on", "last_looked_at_on");

-- Whose rows are seen and written. A subquery that depends on nothing is run once a statement, not once a row.
CREATE FUNCTION "own_organisation"() RETURNS UUID LANGUAGE SQL STABLE PARALLEL SAFE AS $$
    SELECT nullif(current_setting('gudgeon.organisation', true), '')::uuid
$$;
DO $$
DECLARE name text;
BEGIN
    FOR name IN SELECT tablename FROM pg_policies WHERE schemaname = current_schema() AND policyname = 'own_organisation' LOOP
        EXECUTE format('ALTER POLICY own_organisation ON %I USING (organisation_id = (SELECT own_organisation()))', name);
    END LOOP;
    FOREACH name IN ARRAY ARRAY['vehicle_scores', 'vehicle_scores_30_days', 'vehicle_scores_90_days', 'vehicle_scores_180_days', 'vehicle_scores_365_days', 'vehicle_scores_other_days'] LOOP
        EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', name);
        EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', name);
        EXECUTE format('CREATE POLICY own_organisation ON %I USING (organisation_id = (SELECT own_organisation()))', name);
    END LOOP;
END $$;
