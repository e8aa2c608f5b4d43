package main

import "flag"

// update rewrites the expected output in testdata.
var update = flag.Bool("update", false, "rewrite the expected output in testdata")
