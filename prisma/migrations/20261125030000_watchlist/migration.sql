-- The watchlist at 50,000 vehicles: a page reads one horizon, so that each has a partition of its own, and a row
-- carries what it is sorted, narrowed and searched by, so that nothing is joined before the rows of the page are known.
ALTER TABLE "vehicle_scores" RENAME TO "vehicle_scores_before";
ALTER INDEX "vehicle_scores_pkey" RENAME TO "vehicle_scores_before_pkey";

-- CreateTable
CREATE TABLE "vehicle_scores" (
    "organisation_id" UUID NOT NULL,
    "vehicle_id" UUID NOT NULL,
    "horizon_days" INTEGER NOT NULL,
    "urgency" INTEGER NOT NULL,
    "weak_points_covered" INTEGER NOT NULL,
    "library_version" INTEGER NOT NULL,
    "as_of" DATE NOT NULL,
    "assessed" BOOLEAN NOT NULL,
    "odometer_estimated" BOOLEAN NOT NULL,
    "standing" BOOLEAN NOT NULL,
    "scored_at" TIMESTAMPTZ(3) NOT NULL,
    "records_version" BIGINT NOT NULL DEFAULT 0,
    "p_fail" DOUBLE PRECISION,
    "cost_of_waiting" DOUBLE PRECISION,
    "combined" DOUBLE PRECISION,
    "p_low" DOUBLE PRECISION,
    "p_high" DOUBLE PRECISION,
    "leading_position" INTEGER,
    "odometer_km" DOUBLE PRECISION,
    "km_per_day" DOUBLE PRECISION,
    "odometer_read_on" DATE,
    "last_full_scan_on" DATE,
    "last_looked_at_on" DATE,
    "value" DOUBLE PRECISION,
    "asking_price" DOUBLE PRECISION,
    "number_key" TEXT NOT NULL,
    "unit" TEXT NOT NULL,
    "leading_name" TEXT,
    "site" TEXT,
    "family_name" TEXT NOT NULL,
    "status" TEXT NOT NULL,
    "family" TEXT NOT NULL,
    "history" TEXT NOT NULL,
    "customer" TEXT,
    "advice" TEXT NOT NULL,
    "leading_weak_point" TEXT,
    "leading_place" TEXT,
    "speaks" TEXT,
    "words" TEXT NOT NULL,

    CONSTRAINT "vehicle_scores_pkey" PRIMARY KEY ("organisation_id","vehicle_id","horizon_days")
) PARTITION BY LIST ("horizon_days");

-- AddForeignKey
ALTER TABLE "vehicle_scores" ADD CONSTRAINT "vehicle_scores_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- DropIndex
DROP INDEX "saved_views_organisation_id_name_key";

-- AlterTable
ALTER TABLE "saved_views" ADD COLUMN     "removed_at" TIMESTAMPTZ(3);

-- CreateIndex
CREATE INDEX "vehicle_scores_organisation_id_urgency_idx" ON "vehicle_scores"("organisation_id", "urgency");

-- CreateIndex
CREATE INDEX "score_history_organisation_id_horizon_days_as_of_idx" ON "score_history"("organisation_id", "horizon_days", "as_of");


-- By hand from here on: what schema.prisma cannot say.

CREATE TABLE "vehicle_scores_30_days" PARTITION OF "vehicle_scores" FOR VALUES IN (30);
CREATE TABLE "vehicle_scores_90_days" PARTITION OF "vehicle_scores" FOR VALUES IN (90);
CREATE TABLE "vehicle_scores_180_days" PARTITION OF "vehicle_scores" FOR VALUES IN (180);
CREATE TABLE "vehicle_scores_365_days" PARTITION OF "vehicle_scores" FOR VALUES IN (365);
CREATE TABLE "vehicle_scores_other_days" PARTITION OF "vehicle_scores" DEFAULT;

ALTER TABLE "vehicle_scores" ADD CONSTRAINT "vehicle_scores_chances" CHECK (
    "combined" BETWEEN 0 AND 1 AND "p_fail" BETWEEN 0 AND 1 AND "p_low" BETWEEN 0 AND 1 AND "p_high" BETWEEN 0 AND 1);

-- A vehicle's number as text that sorts as people count: B-2 before B-10. Every number in it has 20 digits at least.
CREATE FUNCTION "number_key"("unit" TEXT) RETURNS TEXT LANGUAGE SQL IMMUTABLE STRICT PARALLEL SAFE AS $$
    SELECT string_agg(CASE WHEN part[1] ~ '^[0-9]' THEN lpad(part[1], greatest(20, length(part[1])), '0') ELSE lower(part[1]) END, '' ORDER BY place)
    FROM regexp_matches(unit, '[0-9]+|[^0-9]+', 'g') WITH ORDINALITY AS parts(part, place)
$$;

-- What a row of the watchlist can be found by.
CREATE FUNCTION "watchlist_words"("score" "vehicle_scores", "plate" TEXT) RETURNS TEXT LANGUAGE SQL STABLE PARALLEL SAFE AS $$
    SELECT lower(concat_ws(' ', score.unit, plate, score.site, score.customer, score.family_name, score.leading_name, score.speaks))
$$;

-- Whoever writes a score says nothing of the vehicle: the row takes it from there.
CREATE FUNCTION "take_vehicle_onto_score"() RETURNS TRIGGER LANGUAGE plpgsql AS $$
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
    NEW.words = watchlist_words(NEW, vehicle.plate);
    RETURN NEW;
END $$;
CREATE TRIGGER "take_vehicle" BEFORE INSERT OR UPDATE ON "vehicle_scores" FOR EACH ROW EXECUTE FUNCTION "take_vehicle_onto_score"();

-- And a vehicle that changes hands it on at once, before it is scored again.
CREATE FUNCTION "hand_vehicle_to_scores"() RETURNS TRIGGER LANGUAGE plpgsql AS $$
BEGIN
    UPDATE vehicle_scores SET unit = NEW.unit WHERE organisation_id = NEW.organisation_id AND vehicle_id = NEW.id;
    RETURN NULL;
END $$;
CREATE TRIGGER "hand_on" AFTER UPDATE ON "vehicles" FOR EACH ROW WHEN (
    (OLD.unit, OLD.plate, OLD.status, OLD.history, OLD.family, OLD.site, OLD.customer, OLD.value, OLD.asking_price)
    IS DISTINCT FROM
    (NEW.unit, NEW.plate, NEW.status, NEW.history, NEW.family, NEW.site, NEW.customer, NEW.value, NEW.asking_price)
) EXECUTE FUNCTION "hand_vehicle_to_scores"();

-- Scores that are there stay there; of all organisations at once, which their owner may do while nothing is forced.
ALTER TABLE "vehicle_scores_before" NO FORCE ROW LEVEL SECURITY;
ALTER TABLE "vehicles" NO FORCE ROW LEVEL SECURITY;
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

-- A row a weak point begins with those that ask for something; what booking in would save is summed over them.
CREATE INDEX "component_scores_asking" ON "component_scores"("organisation_id", "horizon_days", "advice", "cost_of_waiting") WHERE "advice" <> 'fine';

-- A view that was removed can come back, until another has taken its name.
CREATE UNIQUE INDEX "saved_views_same_name" ON "saved_views"("organisation_id", lower("name")) WHERE "removed_at" IS NULL;

-- Row-level security, of the whole and of each part.
DO $$
DECLARE name text;
BEGIN
    FOREACH name IN ARRAY ARRAY['vehicle_scores', 'vehicle_scores_30_days', 'vehicle_scores_90_days', 'vehicle_scores_180_days', 'vehicle_scores_365_days', 'vehicle_scores_other_days'] LOOP
        EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', name);
        EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', name);
        EXECUTE format('CREATE POLICY own_organisation ON %I USING (organisation_id = nullif(current_setting(''gudgeon.organisation'', true), '''')::uuid)', name);
    END LOOP;
END $$;
