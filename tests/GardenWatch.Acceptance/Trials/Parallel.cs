// The trials wait on processes far more than they work.
[assembly: CollectionBehavior(MaxParallelThreads = 4)]
