using Whetwright.Core.Metrology;
using Whetwright.Core.Ordering;

namespace Whetwright.Core.Tests.Ordering;

/// <summary>What wheel, angle, rig and clamp take to change, learnt from changes that were timed whole.</summary>
public sealed class SetupLearningTests
{
    private static readonly SetupChanges[] Days =
    [
        SetupChanges.Clamp, SetupChanges.Wheel, SetupChanges.Clamp | SetupChanges.Wheel, SetupChanges.Clamp | SetupChanges.Wheel | SetupChanges.Angle, SetupChanges.Clamp | SetupChanges.Angle,
        SetupChanges.Wheel, SetupChanges.Clamp | SetupChanges.Rig, SetupChanges.Clamp | SetupChanges.Wheel,
    ];

    [Fact]
    public void Without_a_log_the_defaults_count_and_are_called_so()
    {
        SetupTimes none = SetupLearning.From([]);

        Assert.Equal([3, 2, 1.5, 1], none.Named().Select(a => a.Time.Minutes));
        Assert.All(none.Named(), a => Assert.Equal("a default", a.Time.Origin));
        Assert.Equal(3 * Math.Exp(1.96 * 0.7), none.Clamp.ToMinutes, 9); // a factor of four
    }

    [Fact]
    public void Few_changes_are_counted_and_move_the_default_only_a_little()
    {
        SetupTimes few = SetupLearning.From([new(9, SetupChanges.Clamp | SetupChanges.Angle)]);

        Assert.Equal("mostly the default, 1 change seen", few.Angle.Origin);
        Assert.InRange(few.Angle.Minutes, 1.5, 3); // 9 minutes for what should take 4.5: either was slow
        Assert.True(few.Clamp.Minutes + few.Angle.Minutes < 9);
        Assert.Equal("a default", few.Wheel.Origin);
    }

    /// <summary>
    /// Each shop's true minutes are drawn about the defaults (scatter 0.7 in ln), each of its changes scatters about their sum; the stated 95 % interval holds
    /// the truth 95 % of the time. 250 shops, 4 kinds: the share's own standard deviation is about 0.8 %, so 93 to 97 is what chance leaves.
    /// </summary>
    [Theory]
    [InlineData(12)]
    [InlineData(80)]
    public void The_true_minutes_lie_in_the_stated_interval_as_often_as_it_says(int changes)
    {
        RandomDraws random = new(7);
        int inside = 0, all = 0;
        for (int shop = 0; shop < 250; shop++)
        {
            double[] truth = [.. SetupTimes.Usual.Named().Select(a => a.Time.UsualMinutes * Math.Exp(0.7 * random.Normal()))];
            SetupTimes learnt = SetupLearning.From(Log(truth, changes, 0.3, random, 0));
            foreach (((_, SetupTime time), double minutes) in learnt.Named().Zip(truth))
            {
                inside += minutes >= time.FromMinutes && minutes <= time.ToMinutes ? 1 : 0;
                all++;
            }
        }

        Assert.InRange((double)inside / all, 0.93, 0.97);
    }

    [Fact]
    public void A_telephone_call_in_every_tenth_change_moves_little()
    {
        double[] truth = [4.5, 1.2, 2.5, 2];
        SetupTimes learnt = SetupLearning.From(Log(truth, 160, 0.25, new(3), 0.1));

        Assert.All(learnt.Named(), a => Assert.True(a.Time.IsLearnt, a.What));
        foreach (((string what, SetupTime time), double minutes) in learnt.Named().Zip(truth))
            Assert.True(minutes >= time.FromMinutes && minutes <= time.ToMinutes, FormattableString.Invariant($"{what}: {time.FromMinutes:0.00} to {time.ToMinutes:0.00}, true {minutes}"));
        Assert.True(learnt.Clamp.ToMinutes / learnt.Clamp.FromMinutes < 2 && learnt.Wheel.ToMinutes / learnt.Wheel.FromMinutes < 2, "clamp and wheel, seen often and alone, are known well");
    }

    [Fact]
    public void Two_changes_never_seen_apart_are_not_told_apart()
    {
        SetupTimes together = SetupLearning.From([.. Enumerable.Range(0, 60).Select(i => new SetupSeen(i % 2 == 0 ? 8 : 10, SetupChanges.Wheel | SetupChanges.Angle))]);

        Assert.InRange(together.Of(SetupChanges.Wheel | SetupChanges.Angle), 8, 10); // what they take together is known well
        Assert.True(together.Angle.ToMinutes / together.Angle.FromMinutes > 3.5, "the angle's own share is not");
        Assert.Equal("mostly the default, 60 changes seen", together.Angle.Origin);
    }

    /// <summary>By hand: 40 changes to a wheel of which somebody typed 4 minutes took 6 each: half as much again, for the other wheels of 2 minutes too.</summary>
    [Fact]
    public void Typed_minutes_are_taken_times_what_the_log_shows()
    {
        SetupTimes learnt = SetupLearning.From([.. Enumerable.Range(0, 40).Select(_ => new SetupSeen(6, SetupChanges.Wheel, 4))]);

        Assert.Equal(1.5, learnt.Wheel.Factor, 0.05);
        Assert.Equal(6, learnt.Of(SetupChanges.Wheel, 4), 0.2);
        Assert.Equal(3, learnt.Between(new("a", "rig", "coarse", 15), new("a", "rig", "fine", 15)), 0.1);
    }

    [Fact]
    public void A_rig_brings_its_own_wheel_and_angle()
    {
        Assert.Equal(SetupChanges.Clamp | SetupChanges.Rig, BenchSetup.Between(new("a", "one", "coarse", 15), new("b", "two", "fine", 17)));
        Assert.Equal(SetupChanges.Wheel, BenchSetup.Between(new("a", "one", "coarse", 15), new("a", "one", "fine", 15.04)));
        Assert.Equal(SetupChanges.Clamp | SetupChanges.Angle, BenchSetup.Between(new("a", "one", "fine", 15), new("b", "one", "fine", 15.2)));
        Assert.Equal(SetupChanges.Clamp, BenchSetup.Between(null, new("b", "one", "fine", 15.2)));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(double.NaN)]
    public void Minutes_that_are_not_above_nothing_are_refused(double minutes) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => SetupLearning.From([new(minutes, SetupChanges.Clamp)]));

    private static List<SetupSeen> Log(double[] truth, int changes, double scatter, RandomDraws random, double called)
    {
        List<SetupSeen> log = [];
        for (int i = 0; i < changes; i++)
        {
            SetupChanges what = Days[i % Days.Length];
            double sum = Enumerable.Range(0, 4).Where(k => what.HasFlag((SetupChanges)(1 << k))).Sum(k => truth[k]);
            log.Add(new((sum * Math.Exp(scatter * random.Normal())) + (random.Uniform() < called ? 15 : 0), what));
        }

        return log;
    }
}
