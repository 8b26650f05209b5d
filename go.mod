module steelyard

go 1.26
