using Whetwright.Reliability;

namespace Whetwright.Records.Tests;

public sealed class Killing_the_program
{
    [Fact]
    public async Task Ten_kills_in_the_middle_of_saves_lose_nothing_that_was_acknowledged_and_leave_nothing_half_written()
    {
        // Five hundred of them: dotnet run --project bench/Reliability -c Release -- sqlite 500
        string folder = Directory.CreateTempSubdirectory("whetwright-kill-").FullName;
        try
        {
            KillTrial trial = await KillTrial.RunAsync(new BookOptions { DataFolder = folder }, server: null, kills: 10, seed: 7);
            Assert.Equal((0, 0, "ok"), (trial.Lost, trial.Half, trial.Integrity));
            Assert.True(trial.Acknowledged >= 10, trial.ToString());
        }
        finally
        {
            Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
            Directory.Delete(folder, recursive: true);
        }
    }
}
