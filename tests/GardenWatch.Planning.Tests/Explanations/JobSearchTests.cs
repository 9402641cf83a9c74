using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Explanations;
using GardenWatch.Planning.Plans;

namespace GardenWatch.Planning.Tests.Explanations;

/// <summary>A gardener's words for a job, found forgivingly.</summary>
public sealed class JobSearchTests
{
    private static readonly ImmutableArray<AskedJob> Jobs = AskedJob.AllOf(PlanFile.Read(
        """
        garden: Home
        id: home
        place: { town: Little Fallow }
        beds:
          - { bed: long bed }
          - { bed: low bed }
        plantings:
          - { crop: tomato, bed: low bed, variety: red cherry }
          - { crop: basil, bed: low bed }
          - { crop: garlic, bed: long bed }
        chores:
          - { chore: Spread granular fertiliser, beds: [long bed, low bed] }
          - { chore: Drain the hose, when: air low tonight at most 0 °C }
        """,
        "garden.yaml", CropShelf.Shipped(ConditionText.Read), [], new(2026, 4, 21), ConditionText.Read).Plan!);

    [Theory]
    [InlineData("home/tomato-low-bed/cover/3", "home/tomato-low-bed/cover")]
    [InlineData("home/tomato-low-bed/set-out", "home/tomato-low-bed/set-out")]
    [InlineData("tomato-low-bed/set-out", "home/tomato-low-bed/set-out")]
    [InlineData("cover tomatoes", "home/tomato-low-bed/cover")]
    [InlineData("Cover the tomatoes (low bed)", "home/tomato-low-bed/cover")]
    [InlineData("set out the tomato", "home/tomato-low-bed/set-out")]
    [InlineData("cover red cherry", "home/tomato-low-bed/cover")]
    [InlineData("covr tomatos", "home/tomato-low-bed/cover")]
    [InlineData("cov tom", "home/tomato-low-bed/cover")]
    [InlineData("hose", "home/drain-the-hose/drain")]
    [InlineData("fertilser long", "home/spread-granular-fertiliser-long-bed/spread")]
    public void A_job_is_found_by_its_id_or_by_words(string asked, string id) =>
        Assert.Equal(id, Assert.IsType<JobMatch.One>(JobSearch.Find(Jobs, asked)).Job.Id);

    [Theory]
    [InlineData("set out", 2)]
    [InlineData("cover low", 2)]
    [InlineData("spread", 2)]
    public void Words_that_fit_several_bring_them_all(string asked, int several) =>
        Assert.Equal(several, Assert.IsType<JobMatch.Several>(JobSearch.Find(Jobs, asked)).Jobs.Length);

    [Theory]
    [InlineData("smother tomatoes", "tomato")]
    [InlineData("smother garlic", "garlic")]
    [InlineData("", "")]
    [InlineData("zzz", "")]
    public void What_fits_nothing_brings_the_nearest(string asked, string subject)
    {
        var nearest = Assert.IsType<JobMatch.None>(JobSearch.Find(Jobs, asked)).Nearest;
        Assert.NotEmpty(nearest);
        Assert.All(nearest, job => Assert.StartsWith(subject, job.SubjectId, StringComparison.Ordinal));
    }

    [Fact]
    public void Every_job_is_found_by_its_own_full_name_and_its_id()
    {
        foreach (var job in Jobs)
        {
            Assert.Equal(job, Assert.IsType<JobMatch.One>(JobSearch.Find(Jobs, job.FullName)).Job);
            Assert.Equal(job, Assert.IsType<JobMatch.One>(JobSearch.Find(Jobs, job.Id)).Job);
        }
    }

    [Fact]
    public void A_plan_without_jobs_has_none_to_name() =>
        Assert.Empty(Assert.IsType<JobMatch.None>(JobSearch.Find([], "cover")).Nearest);
}
