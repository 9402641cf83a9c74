using GardenWatch.Messages.Digests;
using GardenWatch.Planning.Tests.Agendas;
namespace GardenWatch.Messages.Tests.Situations;
public class DumpTests
{
    [Fact]
    public void Dump()
    {
        Directory.CreateDirectory("/tmp/cat");
        void D(string name, Func<Scenario> s)
        {
            try
            {
                var m = Morning.Of(s());
                var t = DigestText.Write(m.Digest) + "\n=======\n" + string.Join("\n", m.Agenda.Jobs.Select(j => $"{j.Standing} {j.Id} actBy={j.ActBy} undo={j.UndoAt} best={j.Best?.From}-{j.Best?.Until} chance={j.Chance?.Value}\n   R: {string.Join("\n      ", j.Reasons.Select(r => r.Code + ": " + r.Text))}\n   N: {string.Join("\n      ", j.Needs.Select(n => $"{n.Condition} {n.Holds} {n.Likely} | {n.Sentence}"))}\n   other: {j.Otherwise} how: {j.How}"));
                File.WriteAllText($"/tmp/cat/{name}.txt", t);
            }
            catch (Exception e) { File.WriteAllText($"/tmp/cat/{name}.txt", e.ToString()); }
        }
        void A(string name, GardenWatch.Planning.Agendas.Agenda a) { var m = Morning.Of(a); File.WriteAllText($"/tmp/cat/{name}.txt", DigestText.Write(m.Digest) + "\n=====\n" + string.Join("\n", a.Jobs.Select(j => $"{j.Standing} {j.Id} asked={j.TimesAsked} needs={string.Join(';', j.Needs.Select(n => n.Sentence))}")) + "\n" + string.Join("\n", a.Sowings.Concat(a.Ahead).Select(s => s.Id + " " + s.Stage + " " + s.SowLikely + " " + s.Sentence))); }
        A("S05", Scenes.AwayThreeWeeks()[^1].Agenda); A("S08", Scenes.South());
        D("S01", Scenes.TwoColdNights); D("S02", Scenes.ADownpour); D("S03", Scenes.GentleRainAfterTheSlot); D("S04", () => Scenes.NoRainInSight()); D("S04b", () => Scenes.NoRainInSight(""));
        D("S06", Scenes.WarmSoilColdWeek); D("S07", Scenes.WarmNightsColdSoil); D("S09", Scenes.LettuceInAHeatWave); D("S10", Scenes.PotsAndBedAfterFourMillimetres);
        D("S11", () => Scenes.BlossomAfterAWarmSpell()); D("S11b", Scenes.TwoDaysAfterThatFrost); D("S12a", Scenes.ThreeDegreesClear); D("S12b", Scenes.ThreeDegreesClouded); D("S13", Scenes.OneInSeven); D("S14", Scenes.NoForecastForTonight);
        D("S15", Scenes.MovingFreeze); D("S16", Scenes.ColdNightHotNoon); D("S17", Scenes.BlightWeather); D("S18", () => Scenes.SprayWaits()); D("S18b", () => Scenes.SprayWaits(0.3)); D("S19", Scenes.PotatoesJustThrough);
        D("S20", Scenes.ThirtyOneJobsOnASaturday); D("S21", Scenes.HeatIndex37); D("S22", () => Scenes.TomatoNight(1)); D("S23", Scenes.SquashAndTheColdWeek); D("S24", Scenes.SpinachInLongLight); D("S25", Scenes.SeedMaggots);
    }
}
