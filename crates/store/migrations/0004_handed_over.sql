-- Which bikes have left the house is asked across all builds, and most builds may not have: an index of one path alone,
-- so that the answer costs what was handed over and not what was ever built.

CREATE INDEX fields_handed_over ON fields (build_id) WHERE path = 'job.handed_over_on';
CREATE INDEX fields_stage ON fields (text, build_id) WHERE path = 'job.stage';
