"""Check Parquet files of cases on a Spark cluster: `spark-submit with_spark.py CASES ANSWERS`.

The workers need `mendgauge[bulk]` installed. Spark runs a task again where it lost a worker; the answers are the same.
"""

from __future__ import annotations

import sys

from pyspark.sql import DataFrame, SparkSession
from pyspark.sql.pandas.types import from_arrow_schema

from mendgauge.bulk import ANSWERS, check_each


def answers_of(cases: DataFrame) -> DataFrame:
    """Return the answers to a data frame of cases, its columns as `openapi/arrow.md` has them."""
    return cases.mapInArrow(check_each, from_arrow_schema(ANSWERS))


if __name__ == "__main__":
    spark = SparkSession.builder.appName("tyres").getOrCreate()
    answers_of(spark.read.parquet(sys.argv[1])).write.parquet(sys.argv[2])
