using System.Globalization;
using Whetwright.Reliability;

// "write FOLDER OWNER" is the program that gets killed; "FOLDER KILLS" kills it again and again and then looks at the book.
if (args is ["write", string folder, string owner])
    return await Writing.ForeverAsync(folder, long.Parse(owner, CultureInfo.InvariantCulture));

string place = args.Length > 0 ? args[0] : Directory.CreateTempSubdirectory("whetwright-kill-").FullName;
int kills = args.Length > 1 ? int.Parse(args[1], CultureInfo.InvariantCulture) : 100;
KillTrial trial = await KillTrial.RunAsync(place, kills, seed: 20260302);
Console.WriteLine(trial);
return trial.IsIntact ? 0 : 1;
