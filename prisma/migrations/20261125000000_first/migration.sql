-- Organisations, their libraries, vehicles, records and scores.
-- CreateTable
CREATE TABLE "organisations" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "settings" JSONB NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "organisations_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "libraries" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "version" INTEGER NOT NULL,
    "content" JSON NOT NULL,
    "content_hash" BYTEA NOT NULL,
    "in_force" BOOLEAN NOT NULL,
    "entered_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "libraries_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "vehicles" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "sequence" BIGSERIAL NOT NULL,
    "unit" TEXT NOT NULL,
    "vin" TEXT,
    "plate" TEXT,
    "site" TEXT,
    "status" TEXT NOT NULL,
    "left_on" DATE,
    "family" TEXT NOT NULL,
    "variant" TEXT,
    "built_on" DATE,
    "in_service_on" DATE,
    "watched_from_on" DATE,
    "watched_from_km" DOUBLE PRECISION,
    "history" TEXT NOT NULL,
    "duty" TEXT NOT NULL,
    "value" DOUBLE PRECISION,
    "customer" TEXT,
    "contact" TEXT,
    "acquired_on" DATE,
    "acquired_from" TEXT,
    "purchase_price" DOUBLE PRECISION,
    "prep_cost" DOUBLE PRECISION,
    "asking_price" DOUBLE PRECISION,
    "sold_on" DATE,
    "cover_until_on" DATE,
    "cover_until_km" DOUBLE PRECISION,
    "ref" TEXT,
    "entered_on" DATE,
    "entered_at" TIMESTAMPTZ(3) NOT NULL,
    "notes" JSONB NOT NULL,
    "line" INTEGER NOT NULL,

    CONSTRAINT "vehicles_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "readings" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "vehicle_id" UUID NOT NULL,
    "sequence" BIGSERIAL NOT NULL,
    "read_on" DATE NOT NULL,
    "odometer_km" DOUBLE PRECISION NOT NULL,
    "engine_hours" DOUBLE PRECISION,
    "source" TEXT,
    "ref" TEXT,
    "entered_on" DATE,
    "entered_at" TIMESTAMPTZ(3) NOT NULL,
    "notes" JSONB NOT NULL,
    "line" INTEGER NOT NULL,
    "content_hash" BYTEA NOT NULL,
    "superseded_by" UUID,
    "superseded_at" TIMESTAMPTZ(3),
    "withdrawn_at" TIMESTAMPTZ(3),

    CONSTRAINT "readings_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "codes" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "vehicle_id" UUID NOT NULL,
    "sequence" BIGSERIAL NOT NULL,
    "seen_on" DATE NOT NULL,
    "odometer_km" DOUBLE PRECISION,
    "code" TEXT NOT NULL,
    "state" TEXT NOT NULL,
    "lamp" BOOLEAN,
    "cleared_on" DATE,
    "ref" TEXT,
    "entered_on" DATE,
    "entered_at" TIMESTAMPTZ(3) NOT NULL,
    "notes" JSONB NOT NULL,
    "line" INTEGER NOT NULL,
    "content_hash" BYTEA NOT NULL,
    "superseded_by" UUID,
    "superseded_at" TIMESTAMPTZ(3),
    "withdrawn_at" TIMESTAMPTZ(3),

    CONSTRAINT "codes_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "checks" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "vehicle_id" UUID NOT NULL,
    "sequence" BIGSERIAL NOT NULL,
    "checked_on" DATE NOT NULL,
    "odometer_km" DOUBLE PRECISION,
    "kind" TEXT NOT NULL,
    "seen" JSONB NOT NULL,
    "looked_for" JSONB,
    "km_since_cleared" DOUBLE PRECISION,
    "ref" TEXT,
    "entered_on" DATE,
    "entered_at" TIMESTAMPTZ(3) NOT NULL,
    "notes" JSONB NOT NULL,
    "line" INTEGER NOT NULL,
    "content_hash" BYTEA NOT NULL,
    "superseded_by" UUID,
    "superseded_at" TIMESTAMPTZ(3),
    "withdrawn_at" TIMESTAMPTZ(3),

    CONSTRAINT "checks_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "repairs" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "vehicle_id" UUID NOT NULL,
    "sequence" BIGSERIAL NOT NULL,
    "done_on" DATE NOT NULL,
    "odometer_km" DOUBLE PRECISION,
    "weak_point" TEXT NOT NULL,
    "positions" INTEGER[],
    "action" TEXT NOT NULL,
    "revision" TEXT,
    "found" TEXT,
    "because" TEXT,
    "restored" DOUBLE PRECISION,
    "parts_cost" DOUBLE PRECISION,
    "labour_hours" DOUBLE PRECISION,
    "paid_by" TEXT,
    "supplier" TEXT,
    "batch" TEXT,
    "note" TEXT,
    "ref" TEXT,
    "entered_on" DATE,
    "entered_at" TIMESTAMPTZ(3) NOT NULL,
    "notes" JSONB NOT NULL,
    "line" INTEGER NOT NULL,
    "content_hash" BYTEA NOT NULL,
    "superseded_by" UUID,
    "superseded_at" TIMESTAMPTZ(3),
    "withdrawn_at" TIMESTAMPTZ(3),

    CONSTRAINT "repairs_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "changes" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "vehicle_id" UUID NOT NULL,
    "sequence" BIGSERIAL NOT NULL,
    "changed_on" DATE NOT NULL,
    "odometer_km" DOUBLE PRECISION,
    "kind" TEXT NOT NULL,
    "engine_km" DOUBLE PRECISION,
    "offset_km" DOUBLE PRECISION,
    "ref" TEXT,
    "entered_on" DATE,
    "entered_at" TIMESTAMPTZ(3) NOT NULL,
    "notes" JSONB NOT NULL,
    "line" INTEGER NOT NULL,
    "content_hash" BYTEA NOT NULL,
    "superseded_by" UUID,
    "superseded_at" TIMESTAMPTZ(3),
    "withdrawn_at" TIMESTAMPTZ(3),

    CONSTRAINT "changes_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "vehicle_scores" (
    "organisation_id" UUID NOT NULL,
    "vehicle_id" UUID NOT NULL,
    "horizon_days" INTEGER NOT NULL,
    "as_of" DATE NOT NULL,
    "library_version" INTEGER NOT NULL,
    "scored_at" TIMESTAMPTZ(3) NOT NULL,
    "assessed" BOOLEAN NOT NULL,
    "family_name" TEXT NOT NULL,
    "odometer_km" DOUBLE PRECISION,
    "odometer_read_on" DATE,
    "odometer_estimated" BOOLEAN NOT NULL,
    "km_per_day" DOUBLE PRECISION,
    "standing" BOOLEAN NOT NULL,
    "combined" DOUBLE PRECISION,
    "advice" TEXT NOT NULL,
    "last_full_scan_on" DATE,
    "last_looked_at_on" DATE,
    "weak_points_covered" INTEGER NOT NULL,
    "leading_weak_point" TEXT,
    "leading_name" TEXT,
    "leading_position" INTEGER,
    "leading_place" TEXT,
    "p_fail" DOUBLE PRECISION,
    "p_low" DOUBLE PRECISION,
    "p_high" DOUBLE PRECISION,
    "cost_of_waiting" DOUBLE PRECISION,
    "speaks" TEXT,

    CONSTRAINT "vehicle_scores_pkey" PRIMARY KEY ("organisation_id","vehicle_id","horizon_days")
);

-- CreateTable
CREATE TABLE "component_scores" (
    "organisation_id" UUID NOT NULL,
    "vehicle_id" UUID NOT NULL,
    "weak_point" TEXT NOT NULL,
    "position" INTEGER NOT NULL,
    "horizon_days" INTEGER NOT NULL,
    "as_of" DATE NOT NULL,
    "library_version" INTEGER NOT NULL,
    "p_fail" DOUBLE PRECISION NOT NULL,
    "p_low" DOUBLE PRECISION NOT NULL,
    "p_high" DOUBLE PRECISION NOT NULL,
    "p_developing" DOUBLE PRECISION NOT NULL,
    "remaining_km_p50" DOUBLE PRECISION,
    "cost_of_waiting" DOUBLE PRECISION NOT NULL,
    "advice" TEXT NOT NULL,
    "speaks" TEXT NOT NULL,

    CONSTRAINT "component_scores_pkey" PRIMARY KEY ("organisation_id","vehicle_id","weak_point","position","horizon_days")
);

-- CreateIndex
CREATE UNIQUE INDEX "organisations_name_key" ON "organisations"("name");

-- CreateIndex
CREATE UNIQUE INDEX "libraries_organisation_id_version_key" ON "libraries"("organisation_id", "version");

-- CreateIndex
CREATE UNIQUE INDEX "vehicles_organisation_id_unit_key" ON "vehicles"("organisation_id", "unit");

-- CreateIndex
CREATE INDEX "readings_organisation_id_vehicle_id_sequence_idx" ON "readings"("organisation_id", "vehicle_id", "sequence");

-- CreateIndex
CREATE INDEX "codes_organisation_id_vehicle_id_sequence_idx" ON "codes"("organisation_id", "vehicle_id", "sequence");

-- CreateIndex
CREATE INDEX "checks_organisation_id_vehicle_id_sequence_idx" ON "checks"("organisation_id", "vehicle_id", "sequence");

-- CreateIndex
CREATE INDEX "repairs_organisation_id_vehicle_id_sequence_idx" ON "repairs"("organisation_id", "vehicle_id", "sequence");

-- CreateIndex
CREATE INDEX "changes_organisation_id_vehicle_id_sequence_idx" ON "changes"("organisation_id", "vehicle_id", "sequence");

-- AddForeignKey
ALTER TABLE "libraries" ADD CONSTRAINT "libraries_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "vehicles" ADD CONSTRAINT "vehicles_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "readings" ADD CONSTRAINT "readings_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "codes" ADD CONSTRAINT "codes_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "checks" ADD CONSTRAINT "checks_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "repairs" ADD CONSTRAINT "repairs_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "changes" ADD CONSTRAINT "changes_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "vehicle_scores" ADD CONSTRAINT "vehicle_scores_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "component_scores" ADD CONSTRAINT "component_scores_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE CASCADE ON UPDATE CASCADE;


-- By hand from here on: what schema.prisma cannot say.

-- One library is in force.
CREATE UNIQUE INDEX "libraries_one_in_force" ON "libraries"("organisation_id") WHERE "in_force";

-- The same record counts once, however often it is brought in; a superseded or withdrawn one may come again.
CREATE UNIQUE INDEX "readings_same_record" ON "readings"("organisation_id", "content_hash") WHERE "superseded_at" IS NULL AND "withdrawn_at" IS NULL;
CREATE UNIQUE INDEX "codes_same_record" ON "codes"("organisation_id", "content_hash") WHERE "superseded_at" IS NULL AND "withdrawn_at" IS NULL;
CREATE UNIQUE INDEX "checks_same_record" ON "checks"("organisation_id", "content_hash") WHERE "superseded_at" IS NULL AND "withdrawn_at" IS NULL;
CREATE UNIQUE INDEX "repairs_same_record" ON "repairs"("organisation_id", "content_hash") WHERE "superseded_at" IS NULL AND "withdrawn_at" IS NULL;
CREATE UNIQUE INDEX "changes_same_record" ON "changes"("organisation_id", "content_hash") WHERE "superseded_at" IS NULL AND "withdrawn_at" IS NULL;

-- A chance is a chance.
ALTER TABLE "component_scores" ADD CONSTRAINT "component_scores_chances" CHECK (
    "p_fail" BETWEEN 0 AND 1 AND "p_low" BETWEEN 0 AND 1 AND "p_high" BETWEEN 0 AND 1 AND "p_developing" BETWEEN 0 AND 1);
ALTER TABLE "vehicle_scores" ADD CONSTRAINT "vehicle_scores_chances" CHECK (
    "combined" BETWEEN 0 AND 1 AND "p_fail" BETWEEN 0 AND 1 AND "p_low" BETWEEN 0 AND 1 AND "p_high" BETWEEN 0 AND 1);

-- Row-level security: a session sees and writes the rows of the organisation that it has named, for this transaction
-- alone; without a name it sees none. After a transaction the setting is '' and not NULL, hence nullif.
DO $$
DECLARE name text;
BEGIN
    FOREACH name IN ARRAY ARRAY['libraries', 'vehicles', 'readings', 'codes', 'checks', 'repairs', 'changes', 'vehicle_scores', 'component_scores'] LOOP
        EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', name);
        EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', name);
        EXECUTE format('CREATE POLICY own_organisation ON %I USING (organisation_id = nullif(current_setting(''gudgeon.organisation'', true), '''')::uuid)', name);
    END LOOP;
END $$;
