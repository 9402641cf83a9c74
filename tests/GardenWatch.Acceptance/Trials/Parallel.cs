// The trials wait on processes far more than they work.
[assembly: Xunit.v3.Parallelization(MaxThreads = 4)]
